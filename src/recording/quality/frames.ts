import { fftPlan } from "../../signal/fft-plan.js";
import { windowOf } from "../../signal/window.js";
import type { Numbers } from "../../foundation/statistics.js";
import type { Decibels, Hertz, Seconds } from "../../foundation/units.js";

/** Short-time power spectra in one block of memory. */
export interface Frames {
  /** Shape [frameCount * binCount], row by row; white noise of variance v gives v in every bin. */
  readonly power: Float32Array;
  readonly frameCount: number;
  readonly binCount: number;
  readonly binHz: Hertz;
  readonly hopSeconds: Seconds;
  readonly windowSeconds: Seconds;
}

/** Below this, in power re full scale, a bin holds nothing (-150 dB). */
export const EMPTY_POWER = 1e-15;

/** A power of two near the wished length, in samples. */
export const frameLength = (seconds: Seconds, sampleRateHz: Hertz): number =>
  2 ** Math.max(5, Math.round(Math.log2(seconds * sampleRateHz)));

/**
 * Hann-windowed power spectra, `hop` samples apart, bins up to `topHz`.
 *
 * A clip shorter than one frame gives no frames.
 */
export function framesOf(
  samples: Numbers,
  sampleRateHz: Hertz,
  length: number,
  hop: number,
  topHz = sampleRateHz / 2,
): Frames {
  const frameCount = Math.max(0, Math.floor((samples.length - length) / hop) + 1);
  const binHz = sampleRateHz / length;
  const binCount = Math.min(length / 2, Math.floor(topHz / binHz)) + 1;
  const power = new Float32Array(frameCount * binCount);
  const window = windowOf("hann", length);
  const block = new Float64Array(length);
  const bins = new Float64Array(2 * length);
  const plan = fftPlan(length);
  const scale = 1 / (0.375 * length);
  for (let f = 0; f < frameCount; f++) {
    const start = f * hop;
    for (let i = 0; i < length; i++) block[i] = samples[start + i]! * window[i]!;
    plan.forwardReal(block, bins);
    const row = f * binCount;
    for (let k = 0; k < binCount; k++) {
      power[row + k] = scale * (bins[2 * k]! * bins[2 * k]! + bins[2 * k + 1]! * bins[2 * k + 1]!);
    }
  }
  return {
    power,
    frameCount,
    binCount,
    binHz,
    hopSeconds: hop / sampleRateHz,
    windowSeconds: length / sampleRateHz,
  };
}

/** Time of the middle of a frame. */
export const frameSeconds = (frames: Frames, index: number): Seconds =>
  index * frames.hopSeconds + frames.windowSeconds / 2;

/** First and last bin of a band, both inside the frames' range. */
export function binsOfBand(
  frames: Frames,
  lowHz: Hertz,
  highHz: Hertz,
): readonly [low: number, high: number] {
  const low = Math.min(frames.binCount - 1, Math.max(1, Math.ceil(lowHz / frames.binHz)));
  const high = Math.min(frames.binCount - 1, Math.max(low, Math.floor(highHz / frames.binHz)));
  return [low, high];
}

/** Mean power of a band in every frame, in dB. Shape [frameCount]. */
export function bandLevelsDb(frames: Frames, lowHz: Hertz, highHz: Hertz): Float64Array {
  const [low, high] = binsOfBand(frames, lowHz, highHz);
  const levels: Decibels[] | Float64Array = new Float64Array(frames.frameCount);
  for (let f = 0; f < frames.frameCount; f++) {
    let sum = 0;
    for (let k = low; k <= high; k++) sum += frames.power[f * frames.binCount + k]!;
    levels[f] = 10 * Math.log10(sum / (high - low + 1) + EMPTY_POWER);
  }
  return levels;
}
