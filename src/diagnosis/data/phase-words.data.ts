import type { Phase } from "../../machine/words.js";

/** Each phase as part of a sentence. */
export const PHASE_WORDS: Readonly<Record<Phase, string>> = {
  fill: "while it fills",
  wash: "in the wash",
  drain: "while it drains",
  spin: "in the spin",
  coast: "while it runs down without power",
  "hand-spin": "when turned by hand",
  unknown: "in an unknown part of the programme",
};
