import type { ChangeModel } from "./change-model.js";

/** Made by tests/tools/fit-change-model.py; see docs/validation.md. */
export const CHANGE_MODEL: ChangeModel = {
  weights: { difference: 2.68, shift: 11.291, left: -3.181 },
  bias: -4.964,
  even: { difference: 1.309, shift: 0.239, left: 0.437 },
  cured: { difference: 1.453, shift: 0.316, lean: 0.766 },
  source: "fitted on 82 simulated washers of three generators (docs/validation.md)",
  provenance: "computed",
};
