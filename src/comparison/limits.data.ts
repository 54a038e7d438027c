/** What two recordings must have in common. */
export const COMPARISON_LIMITS = {
  /** Speeds further apart than this share are another operating point (trade practice: 5 %). */
  speedShare: 0.05,
  /** Blocks of 3 s, half overlapping, that a recording must have free: 7.5 s. */
  leastBlocks: 4,
  /** Bands of a twelfth of an octave that both must carry, and that the second may lack of the first's. */
  leastBands: 40,
  mostBandsLost: 24,
  /**
   * Bins of a sound that nobody has worked on spread by 13.4 dB; beyond this, noise suppression is at work.
   * Passed by 2 % of simulated recordings without it, and by all with it (docs/validation.md).
   */
  binSpreadDb: 14.3,
  source: "choice; matched speed within 5 % and ratios instead of levels are common practice",
  provenance: "common practice",
} as const;

/** Log-odds from which a change is called what, nats; equal odds of gone and still there at 0. */
export const CHANGE_LIMITS = {
  /** The fault is gone. */
  cured: 1.5,
  /** What a full cure must be able to reach: less, and the first recording shows the fault too little. */
  heard: 0.95,
  /** Less than before. */
  better: 0,
  /** As it was. */
  unchanged: -1.5,
  /** A noise has come that was not there: the odds of the two taken the other way round, and ... */
  worse: 2,
  /** ... the second speaks by this much more for a fault than the first, nats: beyond what other phones do. */
  rise: 2,
  /** Spectra as alike as this (Fisher's z) and patterns that change less than this are the same sound. */
  alike: 2,
  alikeShift: 0.1,
  source: "computed: log-odds of left-out simulated washers (docs/validation.md)",
  provenance: "computed",
} as const;
