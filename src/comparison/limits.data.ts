/** When a change is called what. */
export const COMPARISON_LIMITS = {
  /** Speeds further apart than this share are another operating point (trade practice: 5 %). */
  speedShare: 0.05,
  /** A fault must lead a machine in order by this much before the repair, nats. */
  leastBefore: 0.7,
  /** Evidence must fall by this much to count as less, and rise by it to count as more, nats. */
  leastFall: 1,
  /** A machine in order must lead the old fault by this much after the repair, nats. */
  curedLead: 0.7,
  /** A new fault this likely is a new noise. */
  newNoise: 0.45,
  /** Upper ends of the usable bands may differ by this factor. */
  bandFactor: 2,
  source: "choice; matched speed within 5 % and ratios instead of levels are common practice",
  provenance: "common practice",
} as const;
