import type { ListeningContext } from "../context.js";
import { median } from "../../foundation/statistics.js";
import { runningMedian } from "../../signal/running-median.js";
import { blockPower } from "../../signal/spectrum.js";
import type { StrokePattern } from "./stroke-pattern.js";

const WINDOW = 2048;
const FFT_SIZE = 4096;
/** Mesh rates of an agitator's gear case and how finely they are searched. */
const LOWEST_HZ = 62;
const HIGHEST_HZ = 250;
const STEP = 1.015;
const HARMONICS = [2, 3, 4, 5, 6, 7, 8] as const;
const HIGHEST_LINE_HZ = 1900;
const MOST_FRAMES = 120;

/**
 * Combs of the same density whose lines are not multiples of one rate: each harmonic is shifted by a
 * fixed share of the rate. They say what the best of all rates reaches in a sound without a comb.
 */
const DECOYS = [
  [0.31, -0.22, 0.41, -0.37, 0.17, -0.44, 0.27],
  [-0.35, 0.24, -0.19, 0.45, -0.29, 0.38, -0.41],
  [0.43, 0.33, -0.27, 0.21, 0.39, -0.18, -0.33],
] as const;
const NO_SHIFT = [0, 0, 0, 0, 0, 0, 0] as const;

// Level over its surroundings of ±120 Hz, dB, from 0 to 15; the mains comb is blanked.
function prominence(power: Float64Array, binHz: number, lineHz: number | null): Float64Array {
  const count = Math.ceil((HIGHEST_LINE_HZ * 1.1) / binHz);
  const level = new Float64Array(count);
  for (let k = 0; k < count; k++) level[k] = 10 * Math.log10(power[k]! + 1e-14);
  const background = runningMedian(level, Math.round(120 / binHz));
  return level.map((v, k) => {
    const hz = k * binHz;
    if (lineHz !== null && Math.abs(hz - lineHz * Math.round(hz / lineHz)) < 9) return NaN;
    return Math.min(15, Math.max(0, v - background[k]!));
  });
}

// Mean prominence of a comb's lines with the strongest left out: one whine alone makes no comb.
function combScore(prom: Float64Array, rateBins: number, shifts: readonly number[]): number {
  let sum = 0;
  let top = 0;
  let count = 0;
  for (let h = 0; h < HARMONICS.length; h++) {
    const k = Math.round(rateBins * (HARMONICS[h]! + shifts[h]!));
    if (k + 1 >= prom.length) break;
    const value = Math.max(prom[k - 1]!, prom[k]!, prom[k + 1]!);
    if (Number.isNaN(value)) continue;
    sum += value;
    top = Math.max(top, value);
    count++;
  }
  return count < 4 ? 0 : (sum - top) / (count - 1);
}

function bestScore(
  prom: Float64Array,
  binHz: number,
  shifts: readonly number[],
): { score: number; hz: number } {
  let score = 0;
  let hz = 0;
  for (let rate = LOWEST_HZ; rate <= HIGHEST_HZ; rate *= STEP) {
    const value = combScore(prom, rate / binHz, shifts);
    if (value > score) [score, hz] = [value, rate];
  }
  return { score, hz };
}

export interface MeshComb {
  /** Mean prominence of the best comb over that of the best comb that is none, dB. */
  readonly overDecoysDb: number;
  /** Median rate of the best comb, Hz. */
  readonly hz: number;
  readonly frames: number;
}

/**
 * Looks for a gear's comb in the middle of each stroke, where its speed is highest and steadiest:
 * harmonics 2 to 8 of one rate between 62 and 250 Hz, the mains comb left out. Null without frames.
 */
export function meshComb(context: ListeningContext, pattern: StrokePattern): MeshComb | null {
  const { sound, soundRateHz, speed } = context;
  const binHz = soundRateHz / FFT_SIZE;
  const gains: number[] = [];
  const rates: number[] = [];
  const step = Math.max(1, Math.ceil(pattern.strokes.length / MOST_FRAMES));
  for (let i = 0; i < pattern.strokes.length; i += step) {
    const { startSeconds, endSeconds } = pattern.strokes[i]!;
    const middle = 0.5 * (startSeconds + Math.min(endSeconds, startSeconds + 3));
    const first = Math.round(middle * soundRateHz) - WINDOW / 2;
    if (first < 0 || first + WINDOW > sound.length) continue;
    const prom = prominence(blockPower(sound, first, WINDOW, FFT_SIZE), binHz, speed.lineHz);
    const found = bestScore(prom, binHz, NO_SHIFT);
    let chance = 0;
    for (const shifts of DECOYS) chance += bestScore(prom, binHz, shifts).score / DECOYS.length;
    gains.push(found.score - chance);
    rates.push(found.hz);
  }
  if (gains.length < 2) return null;
  return { overDecoysDb: median(gains), hz: median(rates), frames: gains.length };
}
