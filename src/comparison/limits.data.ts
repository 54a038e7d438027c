/** What two recordings must have in common. */
export const COMPARISON_LIMITS = {
  /** Speeds further apart than this share are another operating point (trade practice: 5 %). */
  speedShare: 0.05,
  /** Blocks of 3 s, half overlapping, that a recording must have free: 7.5 s. */
  leastBlocks: 4,
  /** Octaves that both must carry, and that the second may lack of the first's. */
  leastOctaves: 4,
  mostOctavesLost: 3,
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
  cured: 1.4,
  /** What a full cure must be able to reach: less, and the noise before stood out too little. */
  heard: 2.9,
  /** Less than before. */
  better: 0.4,
  /** As it was. */
  unchanged: -0.8,
  /** A noise has come that was not there. */
  worse: 1.4,
  /** A sound that lies further off is no machine in order, in spreads of such machines. */
  unusual: 12,
  /** Two recordings that differ by less, where those of one sound by two phones differ by 1, sound alike. */
  alike: 0.5,
  source: "computed: log-odds of left-out simulated washers (docs/validation.md)",
  provenance: "computed",
} as const;
