/** When looking further is of no use. */
export const STOP_LIMITS = {
  /** A part that a finding points at is taken as found from this chance on. */
  foundFrom: 0.85,
  /** All remaining tests together must find the fault at least this often. */
  leastFind: 0.03,
  source:
    "0.85 as stopping rule of troubleshooting by value of information; the rest by choice, tried on simulated cases (docs/validation.md)",
  provenance: "from memory",
} as const;

/** When a finding and the sound are said to disagree. */
export const CONTRADICTION_LIMITS = {
  /** The sound favoured a part at least this much ... */
  favouredFrom: 0.25,
  /** ... and the finding is this many times likelier with other parts. */
  againstRatio: 3,
  /** Or: the finding points at parts to which the sound gave less than this together. */
  unexpectedBelow: 0.05,
  source: "choice; a ratio of 3 counts as substantial evidence (Jeffreys' scale, from memory)",
  provenance: "from memory",
} as const;
