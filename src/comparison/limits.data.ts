/** What two recordings must have in common. */
export const COMPARISON_LIMITS = {
  /** Speeds further apart than this share are another operating point (trade practice: 5 %). */
  speedShare: 0.05,
  /** Blocks of 3 s, half overlapping, that a recording must have free: 7.5 s. */
  leastBlocks: 4,
  /** Octaves that both must carry, and that the second may lack of the first's. */
  leastOctaves: 4,
  mostOctavesLost: 1,
  source: "choice; matched speed within 5 % and ratios instead of levels are common practice",
  provenance: "common practice",
} as const;

/** Log-odds from which a change is called what, nats; equal odds of gone and still there at 0. */
export const CHANGE_LIMITS = {
  /** The fault is gone. */
  cured: 2,
  /** The same where nearly every octave became calmer, which noise suppression in one phone does as well. */
  curedThoughCalmer: 5.5,
  /** Less than before. */
  better: 0.6,
  /** As it was. */
  unchanged: -0.5,
  /** An octave swings more than a calm one from here on, dB at 11 to 22 Hz. */
  livelyDb: 1,
  source: "computed: cross-validated log-odds of 105 simulated washers (docs/validation.md)",
  provenance: "computed",
} as const;
