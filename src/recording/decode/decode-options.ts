import type { Seconds } from "../../foundation/units.js";
import { assertRange } from "../../foundation/errors.js";

/** Limits that guard the decoder, and how much sound it keeps. */
export interface DecodeOptions {
  /** Longest stretch kept, in seconds. @defaultValue 600 */
  readonly maxKeptSeconds?: Seconds;
  /**
   * Most samples kept over all channels; 4 bytes each. @defaultValue 40 million, which is 416 s of stereo
   * at 48 kHz and keeps a process below 300 MB
   */
  readonly maxKeptSamples?: number;
  /** Largest file accepted, in bytes. @defaultValue 2 GiB */
  readonly maxBytes?: number;
  /** Longest recording accepted, in seconds. @defaultValue 4 h = 14 400 */
  readonly maxSeconds?: Seconds;
  /** Stops the work between two blocks with the failure `cancelled`. */
  readonly signal?: AbortSignal;
}

export const DECODE_DEFAULTS = Object.freeze({
  maxKeptSeconds: 600,
  maxKeptSamples: 40_000_000,
  maxBytes: 2 * 1024 ** 3,
  maxSeconds: 4 * 3600,
});

export interface DecodeLimits {
  readonly maxKeptSeconds: Seconds;
  readonly maxKeptSamples: number;
  readonly maxBytes: number;
  readonly maxSeconds: Seconds;
  readonly signal: AbortSignal | undefined;
}

/** Fills in the defaults and checks each value. Throws `out-of-range`. */
export function resolveDecodeOptions(options: DecodeOptions = {}): DecodeLimits {
  const limits = { ...DECODE_DEFAULTS, ...options, signal: options.signal };
  assertRange("maxKeptSeconds", limits.maxKeptSeconds, 1, 86_400);
  assertRange("maxKeptSamples", limits.maxKeptSamples, 1e5, 1e9);
  assertRange("maxBytes", limits.maxBytes, 1, Number.MAX_SAFE_INTEGER);
  assertRange("maxSeconds", limits.maxSeconds, 1, 7 * 86_400);
  return limits;
}
