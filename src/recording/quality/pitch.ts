import { fftPlan } from "../../signal/fft-plan.js";
import { frameLength, framesOf, type Frames } from "./frames.js";
import { QUALITY_LIMITS } from "./limits.data.js";
import type { ListeningCopy } from "./listening-copy.js";
import type { Hertz } from "../../foundation/units.js";

const LAG_SIZE = 512;
const TOP_HZ = 3400;
const PITCH_TOP_HZ = 2500;
const BACKGROUND_SECONDS = 4;

/** What stands out from the steady background, frame by frame: candidates for a voice. */
export interface Foreground {
  readonly frames: Frames;
  /** Shape [frameCount * binCount]; power above the background, as a multiple of it, in ln(1 + x). */
  readonly excess: Float32Array;
  /** Shape [frameCount]; mean excess power of 300-3400 Hz in dB of the background. */
  readonly levelDb: Float64Array;
  /** Shape [frameCount]; height of the pitch peak in standard deviations of unpitched excess. */
  readonly clarity: Float64Array;
  /** Shape [frameCount]; pitch of that peak in Hz. */
  readonly pitchHz: Float64Array;
}

/** Background of every bin: the 35 % quantile over 4 s, every 2 s. Shape [stepCount * binCount]. */
function backgrounds(frames: Frames): { values: Float32Array; step: number; count: number } {
  const span = Math.max(8, Math.round(BACKGROUND_SECONDS / frames.hopSeconds));
  const step = Math.max(1, span >> 1);
  const count = Math.max(1, Math.ceil(frames.frameCount / step));
  const values = new Float32Array(count * frames.binCount);
  for (let c = 0; c < count; c++) {
    const from = Math.max(0, Math.min(frames.frameCount - span, c * step - (step >> 1)));
    const to = Math.min(frames.frameCount, from + span);
    const column = new Float32Array(Math.ceil((to - from) / 3));
    for (let k = 0; k < frames.binCount; k++) {
      for (let i = 0; i < column.length; i++) {
        column[i] = frames.power[(from + 3 * i) * frames.binCount + k]!;
      }
      column.sort();
      // 0.43 of the mean of exponentially distributed powers lies below their 35 % quantile.
      values[c * frames.binCount + k] = column[Math.floor(0.35 * column.length)]! / 0.43 + 1e-13;
    }
  }
  return { values, step, count };
}

interface PitchPeak {
  readonly lag: number;
  readonly height: number;
}

function pitchPeak(lags: Float64Array, shortest: number, longest: number): PitchPeak {
  let best = 0;
  for (let t = shortest; t <= longest; t++) {
    if (lags[2 * t]! > lags[2 * t - 2]! && lags[2 * t]! >= lags[2 * t + 2]!) {
      best = Math.max(best, lags[2 * t]!);
    }
  }
  // The shortest lag that comes close to the best one: multiples of a period are as high as the period.
  for (let t = shortest; t <= longest && best > 0; t++) {
    const value = lags[2 * t]!;
    if (value < 0.85 * best || value <= lags[2 * t - 2]! || value < lags[2 * t + 2]!) continue;
    const curve = lags[2 * t - 2]! - 2 * value + lags[2 * t + 2]!;
    const offset = (0.5 * (lags[2 * t - 2]! - lags[2 * t + 2]!)) / (curve || -1);
    return { lag: t + offset, height: value };
  }
  return { lag: NaN, height: 0 };
}

/** Pitch frame by frame from whitened excess spectra: see `foregroundOf`. */
class PitchFinder {
  private readonly even = new Float64Array(LAG_SIZE);
  private readonly lags = new Float64Array(2 * LAG_SIZE);
  private readonly sums: Float64Array;
  private readonly halfWidth: number;
  private readonly low: number;
  private readonly top: number;
  private readonly shortest: number;
  private readonly longest: number;

  constructor(binCount: number, binHz: Hertz) {
    this.sums = new Float64Array(binCount + 1);
    this.halfWidth = Math.max(2, Math.round(125 / binHz));
    this.low = Math.max(1, Math.round(70 / binHz));
    this.top = Math.min(binCount - 1, LAG_SIZE / 2 - 1, Math.floor(PITCH_TOP_HZ / binHz));
    this.shortest = Math.floor((LAG_SIZE * binHz) / QUALITY_LIMITS.voicedHighHz.value);
    this.longest = Math.min(
      LAG_SIZE / 2 - 2,
      Math.ceil((LAG_SIZE * binHz) / QUALITY_LIMITS.voicedLowHz.value),
    );
  }

  /** Lag of the pitch peak in lag bins and its height in standard deviations of unpitched excess. */
  find(excess: Float32Array, row: number): PitchPeak {
    const { even, sums, low, top, halfWidth } = this;
    even.fill(0);
    sums[low] = 0;
    for (let k = low; k <= top; k++) sums[k + 1] = sums[k]! + excess[row + k]!;
    let squares = 0;
    for (let k = low; k <= top; k++) {
      const from = Math.max(low, k - halfWidth);
      const to = Math.min(top, k + halfWidth) + 1;
      const value = excess[row + k]! - (sums[to]! - sums[from]!) / (to - from);
      even[k] = value;
      even[LAG_SIZE - k] = value;
      squares += value * value;
    }
    if (squares === 0) return { lag: NaN, height: 0 };
    fftPlan(LAG_SIZE).forwardReal(even, this.lags);
    const peak = pitchPeak(this.lags, this.shortest, this.longest);
    // Σ 2 e_k cos has the variance 2 Σ e_k² when the e_k are unrelated.
    return { lag: peak.lag, height: peak.height / Math.sqrt(2 * squares) };
  }
}

/**
 * Takes the steady background off and looks for a pitch in the rest.
 *
 * Frames of about 64 ms, 32 ms apart. Excess = ln(1 + max(0, P / B - 3)) with B the slow background of a
 * bin, which removes hum, steady whine and noise. The pitch is the highest peak at 75-400 Hz lag of the
 * inverse transform of the excess below 2.5 kHz, freed of its mean over 250 Hz (the formants).
 */
export function foregroundOf(copy: ListeningCopy): Foreground {
  const rate = copy.sampleRateHz;
  const length = frameLength(0.064, rate);
  const frames = framesOf(copy.samples, rate, length, Math.round(0.032 * rate), TOP_HZ);
  const background = backgrounds(frames);
  const { frameCount, binCount, binHz } = frames;
  const excess = new Float32Array(frameCount * binCount);
  const levelDb = new Float64Array(frameCount);
  const clarity = new Float64Array(frameCount);
  const pitchHz = new Float64Array(frameCount);
  const finder = new PitchFinder(binCount, binHz);
  const levelLow = Math.round(300 / binHz);
  for (let f = 0; f < frameCount; f++) {
    const row = f * binCount;
    const at = Math.min(background.count - 1, Math.round(f / background.step)) * binCount;
    let over = 0;
    for (let k = 1; k < binCount; k++) {
      const above = frames.power[row + k]! / background.values[at + k]! - 3;
      if (above <= 0) continue;
      excess[row + k] = Math.log(1 + above);
      if (k >= levelLow) over += above;
    }
    levelDb[f] = 10 * Math.log10(over / (binCount - levelLow) + 1e-2);
    const peak = finder.find(excess, row);
    clarity[f] = peak.height;
    pitchHz[f] = peak.height > 0 ? (LAG_SIZE * binHz) / peak.lag : 0;
  }
  return { frames, excess, levelDb, clarity, pitchHz };
}
