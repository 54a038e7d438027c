import type { Hertz } from "../../foundation/units.js";
import { lowPassTaps } from "../../signal/resample.js";

/** Above this rate nothing a phone hears is lost by keeping every second sample, low-passed. */
export const HIGHEST_KEPT_RATE_HZ: Hertz = 48_000;

/** Lowers the sample rate of one channel by a whole factor, block by block. */
export interface Decimator {
  /** The samples that have become certain; the result is valid until the next call. */
  push(block: Float32Array): Float32Array;
  /** The rest, once no more samples come. */
  flush(): Float32Array;
}

/** The whole factor that brings a rate to 48 kHz or just below: 1 up to 48 kHz. */
export const decimationFactor = (sampleRateHz: Hertz): number =>
  Math.ceil(sampleRateHz / HIGHEST_KEPT_RATE_HZ);

/**
 * A decimator with a linear-phase Kaiser low pass: pass band to 0.42 of the new rate, alias rejection
 * about 80 dB, no delay. A factor of 1 hands every block through untouched.
 */
export function createDecimator(factor: number): Decimator {
  if (factor === 1) return { push: (block) => block, flush: () => new Float32Array(0) };
  const halfLength = 32 * factor;
  const taps = lowPassTaps(0.46 / factor, halfLength);
  // Samples not yet used up, the first of them `halfLength` before the next output.
  let pending = new Float32Array(halfLength);
  const push = (block: Float32Array): Float32Array => {
    const joined = new Float32Array(pending.length + block.length);
    joined.set(pending);
    joined.set(block, pending.length);
    const count = Math.max(0, Math.floor((joined.length - taps.length) / factor) + 1);
    const out = new Float32Array(count);
    for (let i = 0; i < count; i++) {
      let sum = 0;
      for (let j = 0, at = i * factor; j < taps.length; j++, at++) sum += taps[j]! * joined[at]!;
      out[i] = sum;
    }
    pending = joined.slice(count * factor);
    return out;
  };
  return { push, flush: () => push(new Float32Array(halfLength)) };
}
