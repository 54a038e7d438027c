import type { Hertz, Seconds } from "../../foundation/units.js";
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
  /** Most samples decoded over all channels, kept or not. @defaultValue 2000 million, 5.8 h of stereo at 48 kHz */
  readonly maxDecodedSamples?: number;
  /**
   * Most samples over all channels that a byte of the file may unfold to. @defaultValue 1000: speech at
   * 6 kbit/s makes 64, silence in FLAC some 600; more is a file made to fill a machine
   */
  readonly maxSamplesPerByte?: number;
  /** Most channels accepted. @defaultValue 64; no phone or recorder in use writes more */
  readonly maxChannels?: number;
  /** Lowest sample rate accepted, in hertz. @defaultValue 4000 */
  readonly minSampleRateHz?: Hertz;
  /** Highest sample rate accepted, in hertz. @defaultValue 384 000 */
  readonly maxSampleRateHz?: Hertz;
  /** Stops the work between two blocks with the failure `cancelled`. */
  readonly signal?: AbortSignal;
}

export const DECODE_DEFAULTS = Object.freeze({
  maxKeptSeconds: 600,
  maxKeptSamples: 40_000_000,
  maxBytes: 2 * 1024 ** 3,
  maxSeconds: 4 * 3600,
  maxDecodedSamples: 2e9,
  maxSamplesPerByte: 1000,
  maxChannels: 64,
  minSampleRateHz: 4000,
  maxSampleRateHz: 384_000,
});

/** All limits, filled in. */
export type DecodeLimits = Readonly<Required<Omit<DecodeOptions, "signal">>> & {
  readonly signal: AbortSignal | undefined;
};

/** Fills in the defaults and checks each value. Throws `out-of-range`. */
export function resolveDecodeOptions(options: DecodeOptions = {}): DecodeLimits {
  const limits = { ...DECODE_DEFAULTS, ...options, signal: options.signal };
  assertRange("maxKeptSeconds", limits.maxKeptSeconds, 1, 86_400);
  assertRange("maxKeptSamples", limits.maxKeptSamples, 1e5, 1e9);
  assertRange("maxBytes", limits.maxBytes, 1, Number.MAX_SAFE_INTEGER);
  assertRange("maxSeconds", limits.maxSeconds, 1, 7 * 86_400);
  assertRange("maxDecodedSamples", limits.maxDecodedSamples, 1e5, Number.MAX_SAFE_INTEGER);
  assertRange("maxSamplesPerByte", limits.maxSamplesPerByte, 1, Number.MAX_SAFE_INTEGER);
  assertRange("maxChannels", limits.maxChannels, 1, 65_535);
  assertRange("minSampleRateHz", limits.minSampleRateHz, 2000, 48_000);
  assertRange("maxSampleRateHz", limits.maxSampleRateHz, 8000, 10_000_000);
  return limits;
}
