/** Numbers that turn summed evidence into chances. */
export const CALIBRATION = {
  /** Correlation assumed between rows of one group: their sum is divided by 1 + (n - 1) rho. */
  groupCorrelation: 0.5,
  /** Largest weight of one row and of one group, nats. */
  rowCap: 2.5,
  groupCap: 4,
  /** Floor of P(audible in phase): the phase label may be wrong. */
  phaseFloor: 0.02,
  /** From this chance of being heard in a phase on, what is heard there counts in full for a part. */
  fullSayFrom: 0.5,
  /** Weight of the character's likelihood against the single rows, which share its observations. */
  characterWeight: 0.8,
  /**
   * Softmax temperature by class of recording: good and limited from the likelihood of held-out recordings
   * (283 and 49, tests/tools/tune-weights.ts), the second drawn towards the guess of 1.35; poor is a guess.
   */
  temperature: { good: 1.15, limited: 1.2, poor: 1.55 },
  /** Cover promised for the prediction set, and the summed chance that reaches it, by class of recording. */
  predictionSet: { cover: 0.9, threshold: { good: 0.89, limited: 0.89, poor: 0.93 } },
  source:
    "group correlation and temperature: starting values from a comparison of inference methods on simulated diagnoses; others chosen",
  provenance: "from memory",
} as const;
