import type { Sourced } from "../../machine/words.js";

/** Sockets that a technician's set holds. */
export const INCH_SOCKETS = [
  "1/4 in",
  "5/16 in",
  "3/8 in",
  "7/16 in",
  "1/2 in",
  "9/16 in",
  "5/8 in",
  "11/16 in",
  "3/4 in",
] as const;

export const METRIC_SOCKETS = [
  "6 mm",
  "7 mm",
  "8 mm",
  "9 mm",
  "10 mm",
  "11 mm",
  "12 mm",
  "13 mm",
  "14 mm",
  "15 mm",
  "16 mm",
  "17 mm",
  "18 mm",
  "19 mm",
] as const;

interface FitLimit extends Sourced {
  /** Socket less nut, nominal sizes, in mm. */
  readonly value: number;
}

const memory = {
  source:
    "nuts are made up to 0.2 to 0.3 mm under their nominal size, sockets a little over theirs",
  provenance: "from memory",
} as const;

/** From which gap on a socket fits, is loose, or spoils the nut. */
export const HEXAGON_FIT = {
  tightFromMm: { value: -0.2, ...memory },
  fitsFromMm: { value: -0.07, ...memory },
  looseFromMm: { value: 0.15, ...memory },
  trapFromMm: { value: 0.5, ...memory },
  tooLargeFromMm: { value: 0.9, ...memory },
} as const satisfies Record<string, FitLimit>;
