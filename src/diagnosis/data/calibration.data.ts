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
   * Softmax temperature by class of recording. Good: likeliest divisor for recordings of a hand that had taught
   * nothing (1.25 and 1.2 with weights of one other hand, n 1146; 1.0 with weights of two, n 727), between these.
   * Limited and poor ones differ from good ones by what recordings of the same hands show (0.1 and 0.1 to 0.2,
   * n 99 and 160).
   */
  temperature: { good: 1.1, limited: 1.2, poor: 1.3 },
  /** Cover promised for the prediction set, and the summed chance that reaches it, by class of recording. */
  predictionSet: { cover: 0.9, threshold: { good: 0.92, limited: 0.9, poor: 0.95 } },
  source:
    "group correlation and temperature: starting values from a comparison of inference methods on simulated diagnoses; others chosen",
  provenance: "from memory",
} as const;
