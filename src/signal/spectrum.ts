import { fftPlan } from "./fft-plan.js";
import { windowOf, type WindowName } from "./window.js";
import type { Numbers } from "../foundation/statistics.js";

/** A one-sided spectrum on an even grid: bin k lies at k * binHz. */
export interface Spectrum {
  /** Shape [binCount]; unit said by the function that made it. */
  readonly values: Float64Array;
  /** Distance between bins in Hz (or in orders, when the axis is orders). */
  readonly binHz: number;
}

/**
 * Squared magnitudes of the windowed real FFT of one block, not scaled.
 * Shape [size/2 + 1]. `block` is zero-padded to `size`, a power of two.
 */
export function blockPower(
  samples: Numbers,
  start: number,
  length: number,
  size: number,
  windowName: WindowName = "hann",
): Float64Array {
  const window = windowOf(windowName, length);
  const padded = new Float64Array(size);
  for (let i = 0; i < length; i++) padded[i] = (samples[start + i] ?? 0) * window[i]!;
  const bins = new Float64Array(2 * size);
  fftPlan(size).forwardReal(padded, bins);
  const power = new Float64Array(size / 2 + 1);
  for (let k = 0; k <= size / 2; k++) power[k] = bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
  return power;
}

export interface WelchOptions {
  /** Samples in a segment, a power of two. @defaultValue 4096 */
  readonly segmentLength?: number;
  /** Share of a segment that the next one repeats, 0 to <1. @defaultValue 0.5 */
  readonly overlap?: number;
  /** @defaultValue "hann" */
  readonly window?: WindowName;
}

/**
 * One-sided power spectral density by Welch's method: mean of windowed periodograms, no detrending.
 *
 * Unit: (unit of samples)² / Hz; Σ values * binHz is the mean square. When the signal is shorter than a
 * segment, one zero-padded segment is used. Source: Welch, IEEE Trans. Audio Electroacoust. 15 (1967).
 */
export function welch(
  samples: Numbers,
  sampleRateHz: number,
  options: WelchOptions = {},
): Spectrum {
  const { segmentLength = 4096, overlap = 0.5, window: name = "hann" } = options;
  const length = Math.min(segmentLength, samples.length);
  const hop = Math.max(1, Math.round(segmentLength * (1 - overlap)));
  const values = new Float64Array(segmentLength / 2 + 1);
  let count = 0;
  for (let start = 0; start + length <= samples.length && length > 0; start += hop) {
    const power = blockPower(samples, start, length, segmentLength, name);
    for (let k = 0; k < values.length; k++) values[k]! += power[k]!;
    count++;
  }
  const squares = windowOf(name, Math.max(1, length)).reduce((sum, w) => sum + w * w, 0);
  const scale = 2 / (sampleRateHz * squares * Math.max(1, count));
  for (let k = 0; k < values.length; k++) values[k]! *= scale;
  values[0]! /= 2;
  values[values.length - 1]! /= 2;
  return { values, binHz: sampleRateHz / segmentLength };
}

/** Power over time and frequency. */
export interface Spectrogram {
  /** Shape [frameCount][size/2 + 1], squared magnitudes, not scaled. */
  readonly frames: readonly Float64Array[];
  readonly binHz: number;
  /** Time of a frame's centre: frameSeconds(i) = i * hopSeconds + halfWindowSeconds. */
  readonly hopSeconds: number;
  readonly halfWindowSeconds: number;
}

/** Short-time Fourier transform power with a Hann window. `size` is a power of two >= `length`. */
export function spectrogram(
  samples: Numbers,
  sampleRateHz: number,
  options: { readonly length: number; readonly hop: number; readonly size?: number },
): Spectrogram {
  const { length, hop, size = length } = options;
  const window = windowOf("hann", length);
  const padded = new Float64Array(size);
  const bins = new Float64Array(2 * size);
  const plan = fftPlan(size);
  const frames: Float64Array[] = [];
  for (let start = 0; start + length <= samples.length; start += hop) {
    for (let i = 0; i < length; i++) padded[i] = samples[start + i]! * window[i]!;
    plan.forwardReal(padded, bins);
    const power = new Float64Array(size / 2 + 1);
    for (let k = 0; k < power.length; k++) power[k] = bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
    frames.push(power);
  }
  return {
    frames,
    binHz: sampleRateHz / size,
    hopSeconds: hop / sampleRateHz,
    halfWindowSeconds: length / 2 / sampleRateHz,
  };
}

/** Mean of the values whose bins lie in [lowHz, highHz]; NaN when none does. */
export function bandMean(spectrum: Spectrum, lowHz: number, highHz: number): number {
  const low = Math.max(0, Math.ceil(lowHz / spectrum.binHz));
  const high = Math.min(spectrum.values.length - 1, Math.floor(highHz / spectrum.binHz));
  let sum = 0;
  for (let k = low; k <= high; k++) sum += spectrum.values[k]!;
  return high < low ? NaN : sum / (high - low + 1);
}
