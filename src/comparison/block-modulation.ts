import { fftPlan } from "../signal/fft-plan.js";
import { windowOf } from "../signal/window.js";
import { FRAME_RATE_HZ } from "./level-frames.js";

/** Edges of the bands of modulation, Hz, an octave each. */
export const MODULATION_EDGES_HZ = [0.7, 1.4, 2.8, 5.6, 11, 22, 45, 90] as const;
const SIZE = 512;

/**
 * Power of the modulation of a level in octaves of modulation rate, dB re 1 dB².
 *
 * Means over Hann windows of 2.05 s, half overlapping; shape [MODULATION_EDGES_HZ.length - 1].
 */
export function modulationOf(level: Float64Array): number[] {
  const plan = fftPlan(SIZE);
  const window = windowOf("hann", SIZE);
  const block = new Float64Array(SIZE);
  const bins = new Float64Array(2 * SIZE);
  const power = new Float64Array(SIZE / 2);
  let windows = 0;
  for (let start = 0; start + SIZE <= level.length; start += SIZE / 4) {
    let mean = 0;
    for (let i = 0; i < SIZE; i++) mean += level[start + i]! / SIZE;
    for (let i = 0; i < SIZE; i++) block[i] = (level[start + i]! - mean) * window[i]!;
    plan.forwardReal(block, bins);
    for (let k = 0; k < SIZE / 2; k++) power[k]! += bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
    windows++;
  }
  const scale = 16 / (3 * SIZE * SIZE * Math.max(1, windows));
  return MODULATION_EDGES_HZ.slice(1).map((high, band) => {
    const first = Math.max(1, Math.round((MODULATION_EDGES_HZ[band]! * SIZE) / FRAME_RATE_HZ));
    const last = Math.round((high * SIZE) / FRAME_RATE_HZ);
    let sum = 0;
    for (let k = first; k < last; k++) sum += power[k]!;
    return 10 * Math.log10(scale * sum + 1e-6);
  });
}

const LONGEST_LAG_SECONDS = 1.2;
const SHORTEST_LAG_SECONDS = 0.03;

/** Highest autocorrelation of a level at lags of 0.03 to 1.2 s: 1 for a strict repetition. */
export function repetitionOf(level: Float64Array): number {
  const size = 2 ** Math.ceil(Math.log2(2 * level.length));
  const plan = fftPlan(size);
  const padded = new Float64Array(size);
  let mean = 0;
  for (const value of level) mean += value / level.length;
  for (let i = 0; i < level.length; i++) padded[i] = level[i]! - mean;
  const bins = new Float64Array(2 * size);
  plan.forwardReal(padded, bins);
  const power = new Float64Array(2 * size);
  for (let k = 0; k <= size / 2; k++) {
    const value = bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
    power[2 * k] = value;
    if (k > 0) power[2 * (size - k)] = value;
  }
  const correlation = new Float64Array(2 * size);
  plan.inverse(power, correlation);
  let best = 0;
  const last = Math.min(level.length - 1, LONGEST_LAG_SECONDS * FRAME_RATE_HZ);
  for (let lag = Math.round(SHORTEST_LAG_SECONDS * FRAME_RATE_HZ); lag <= last; lag++) {
    best = Math.max(best, correlation[2 * lag]! / (correlation[0]! + 1e-12));
  }
  return best;
}
