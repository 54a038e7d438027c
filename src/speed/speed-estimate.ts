import type { Hertz, Rpm, Seconds } from "../foundation/units.js";

/** A value with its 90 % interval. */
export interface Estimate {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

export interface SpeedPoint {
  readonly timeSeconds: Seconds;
  /** Drum speed, or null while none can be told (standstill, noise, pause). */
  readonly drumRpm: Rpm | null;
}

/** How the speed behaves over the clip. */
export type Movement = "steady" | "rising" | "falling" | "stop-and-go" | "still" | "unknown";

/** Something about the estimate that a reader must know. */
export type SpeedNote =
  | "told-speed-contradicted"
  | "told-speed-used"
  | "octave-ambiguous"
  | "ratio-estimated"
  | "only-modulation"
  | "no-speed-heard"
  | "tumble-range-only"
  | "motor-only";

/** Drum and motor speed over one clip, as far as the sound shows it. */
export interface SpeedEstimate {
  /** Typical speed over the part of the clip with the clearest line (plateau first), in rpm. */
  readonly drumRpm: Estimate | null;
  readonly motorRpm: Estimate | null;
  /** Motor turns per drum turn; 1 on direct drive; null when not known. */
  readonly motorToDrum: Estimate | null;
  /** Mains frequency heard (or told). */
  readonly lineHz: 50 | 60 | null;
  /** Strength of the mains comb against its surroundings, dB; null when none is heard. */
  readonly lineCombDb: number | null;
  /** Evenly spaced points, `hopSeconds` apart, covering the clip. */
  readonly track: readonly SpeedPoint[];
  readonly hopSeconds: Seconds;
  /** Motor speed at the track's points, only where the motor is heard and the drum is not. */
  readonly motorAloneRpm?: readonly Rpm[];
  readonly movement: Movement;
  /** Lowest and highest drum speed of the trusted part of the track, or null. */
  readonly spanRpm: readonly [low: Rpm, high: Rpm] | null;
  /** Relative standard error of the track after refinement, for instance 0.001. */
  readonly relativeError: number;
  readonly notes: readonly SpeedNote[];
  /** The next best reading, when it cannot be ruled out. */
  readonly alternative: { readonly drumHz: Hertz; readonly logOdds: number } | null;
}
