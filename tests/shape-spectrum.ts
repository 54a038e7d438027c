import { fftPlan, nextPowerOfTwo } from "../src/signal/fft-plan.js";

/** Multiplies the spectrum by a real gain of frequency: a zero-phase filter. Shape as the samples. */
export function shapeSpectrum(
  samples: Float64Array,
  sampleRateHz: number,
  gain: (hz: number) => number,
): Float64Array {
  const size = nextPowerOfTwo(samples.length);
  const block = new Float64Array(size);
  block.set(samples);
  const bins = new Float64Array(2 * size);
  fftPlan(size).forwardReal(block, bins);
  // Back by another transform of a real block, half the cost of a complex one: where x is real,
  // N x[n] = Σ Re X cos - Im X sin, and the transform of Re X + Im X holds both sums by their symmetry.
  for (let k = 0; k <= size / 2; k++) {
    const g = gain((k * sampleRateHz) / size);
    const re = g * bins[2 * k]!;
    const im = g * bins[2 * k + 1]!;
    block[k] = re + im;
    if (k > 0 && k < size / 2) block[size - k] = re - im;
  }
  fftPlan(size).forwardReal(block, bins);
  const out = new Float64Array(samples.length);
  for (let n = 0; n < out.length; n++) {
    const k = n <= size / 2 ? n : size - n;
    out[n] = (bins[2 * k]! + (k === n ? 1 : -1) * bins[2 * k + 1]!) / size;
  }
  return out;
}
