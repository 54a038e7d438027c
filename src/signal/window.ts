export type WindowName =
  "rectangle" | "hann" | "hamming" | "blackman" | "blackman-harris" | "flat-top";

// Cosine-sum coefficients a0 - a1 cos + a2 cos ... Harris, Proc. IEEE 66 (1978) 51-83; flat-top:
// ISO 18431-2 as used by scipy.signal.windows.flattop.
const COEFFICIENTS: Readonly<Record<WindowName, readonly number[]>> = {
  rectangle: [1],
  hann: [0.5, 0.5],
  hamming: [0.54, 0.46],
  blackman: [0.42, 0.5, 0.08],
  "blackman-harris": [0.35875, 0.48829, 0.14128, 0.01168],
  "flat-top": [0.21557895, 0.41663158, 0.277263158, 0.083578947, 0.006947368],
};

const windows = new Map<string, Float64Array>();

/**
 * A periodic (DFT-even) window: w[n] = Σ_k (-1)^k a_k cos(2πkn/length). Shape [length], no unit.
 * The array is shared: do not write to it.
 */
export function windowOf(name: WindowName, length: number): Float64Array {
  const key = `${name}/${length}`;
  const known = windows.get(key);
  if (known) return known;
  const samples = new Float64Array(length);
  COEFFICIENTS[name].forEach((a, k) => {
    const sign = k % 2 === 0 ? a : -a;
    for (let n = 0; n < length; n++) samples[n]! += sign * Math.cos((2 * Math.PI * k * n) / length);
  });
  windows.set(key, samples);
  return samples;
}

/** Mean of the window: the factor by which a bin-centred sine's amplitude shrinks. */
export const coherentGain = (window: Float64Array): number =>
  window.reduce((sum, w) => sum + w, 0) / window.length;

/** Equivalent noise bandwidth in bins: N Σw² / (Σw)². Hann: 1.5. */
export function noiseBandwidthBins(window: Float64Array): number {
  let sum = 0;
  let squares = 0;
  for (const w of window) {
    sum += w;
    squares += w * w;
  }
  return (window.length * squares) / (sum * sum);
}
