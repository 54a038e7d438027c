import { fftPlan, nextPowerOfTwo } from "../../src/signal/fft-plan.js";
import { assess } from "./quality-sounds.js";

/** Sets every bin of the whole sound's spectrum outside the band to zero: the ideal filter. */
export function brickWall(
  samples: Float32Array,
  rate: number,
  [lowHz, highHz]: readonly [number, number],
): Float32Array {
  const size = nextPowerOfTwo(samples.length);
  const plan = fftPlan(size);
  const block = new Float64Array(2 * size);
  samples.forEach((x, i) => {
    block[2 * i] = x;
  });
  const bins = new Float64Array(2 * size);
  plan.forward(block, bins);
  for (let k = 0; k < size; k++) {
    const hz = (Math.min(k, size - k) * rate) / size;
    if (hz >= lowHz && hz <= highHz) continue;
    bins[2 * k] = 0;
    bins[2 * k + 1] = 0;
  }
  plan.inverse(bins, block);
  return samples.map((_, i) => block[2 * i]!);
}

export const bandOf = (samples: Float32Array, rate: number): readonly [number, number] =>
  assess(samples, rate).bandHz;
