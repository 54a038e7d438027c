import type { LogEnvelopes } from "./log-envelope.js";

/** What a course of speed is taken out of. */
export interface StraightenInput {
  /** At `soundRateHz`, about 8 kHz. */
  readonly sound: Float64Array;
  readonly soundRateHz: number;
  readonly envelopes: LogEnvelopes;
  /** 1 per frame that may be used. */
  readonly usable: Uint8Array;
  /** Mains frequency whose comb must not pass for a shaft, or null. */
  readonly mainsHz: number | null;
}
