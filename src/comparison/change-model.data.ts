import type { ChangeModel } from "./change-model.js";

/** Made by tests/tools/fit-change-model.py; see docs/validation.md. */
export const CHANGE_MODEL: ChangeModel = {
  weights: { difference: 3.053, shift: 6.578, fade: 1.017 },
  bias: -5.529,
  even: { difference: 1.3, shift: 0.237, fade: -0.03 },
  cured: { difference: 1.463, shift: 0.307, lean: 0.16 },
  source: "fitted on 53 simulated washers of three generators (docs/validation.md)",
  provenance: "computed",
};
