import { lowPassTaps } from "../signal/resample.js";

const HALF_LENGTH = 15;
const TAPS = lowPassTaps(0.25, HALF_LENGTH, 6);

/**
 * Halves the sample rate. Half-band Kaiser filter of 31 taps, every second one zero: flat to 0.2 of the
 * rate handed in, 60 dB down from 0.3. Shape [ceil(n / 2)], no delay.
 */
export function halfRate(samples: Float64Array): Float64Array {
  const n = samples.length;
  const out = new Float64Array(Math.ceil(n / 2));
  const centre = TAPS[HALF_LENGTH]!;
  for (let m = 0; m < out.length; m++) {
    const at = 2 * m;
    let sum = centre * samples[at]!;
    const inside = at >= HALF_LENGTH && at + HALF_LENGTH < n;
    for (let j = 1; j <= HALF_LENGTH; j += 2) {
      const pair = inside
        ? samples[at - j]! + samples[at + j]!
        : (samples[at - j] ?? 0) + (samples[at + j] ?? 0);
      sum += TAPS[HALF_LENGTH + j]! * pair;
    }
    out[m] = sum;
  }
  return out;
}
