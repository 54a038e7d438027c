/** When a ranking is called what. */
export const VERDICT_LIMITS = {
  /** One part stands out: at least this chance ... */
  likelyFrom: 0.6,
  /** ... and this many times the next. */
  likelyRatio: 2.2,
  /** A normal sound is called so from this chance on ... */
  normalFrom: 0.28,
  /** ... and when it is this many times likelier than the likeliest part. */
  normalRatio: 3.5,
  /** A shortlist must hold this much in its first three, else the recording does not decide. */
  shortlistTopThree: 0.48,
  /** ... or this much where the machine was told, so that a machine it is. */
  shortlistTopThreeTold: 0.44,
  /** A machine in order this likely against the leading part is a doubt that calls for another recording. */
  normalDoubt: 0.13,
  /** Log-odds that the sound is a machine at all, before hearing it; told facts add to it. */
  machineBias: 1.5,
  toldMachineNats: 1,
  toldPhaseNats: 1,
  toldSpeedNats: 1,
  /** Below this the answer is that no machine of this kind is heard. */
  machineFrom: 0,
  /**
   * Silence about faults is only told of a sound that itself speaks for a machine, or was told to be one; parts
   * are named of any sound where the machine was told, else of such a one.
   */
  answerFrom: 1.8,
  source: "choice; abstain when the first is less than twice the second is common practice",
  provenance: "common practice",
} as const;
