import { clamp, median, quantile } from "../../foundation/statistics.js";
import { runningMedian } from "../../signal/running-median.js";
import { EMPTY_POWER, frameLength, framesOf, type Frames } from "./frames.js";
import { QUALITY_LIMITS } from "./limits.data.js";
import type { Hertz } from "../../foundation/units.js";

const MOST_FRAMES = 60;
const LOWEST_HZ = 20;

interface DbSpectrum {
  /** Shape [binCount]; median level of the louder half of the clip, dB. */
  readonly levels: Float64Array;
  readonly binHz: Hertz;
}

/** Median spectrum up to `topHz` over the louder half of frames that are spread over the clip. */
export function typicalSpectrum(
  samples: ArrayLike<number>,
  sampleRateHz: Hertz,
  windowSeconds: number,
  topHz = sampleRateHz / 2,
): DbSpectrum {
  const length = frameLength(windowSeconds, sampleRateHz);
  const hop = Math.max(length >> 1, Math.ceil(samples.length / MOST_FRAMES));
  const frames = framesOf(samples, sampleRateHz, length, hop, topHz);
  const rows = louderHalf(frames);
  const levels = new Float64Array(frames.binCount);
  const column = new Float64Array(rows.length);
  for (let k = 0; k < frames.binCount; k++) {
    for (let i = 0; i < rows.length; i++) column[i] = frames.power[rows[i]! * frames.binCount + k]!;
    column.sort();
    levels[k] = 10 * Math.log10((column[column.length >> 1] ?? 0) + EMPTY_POWER);
  }
  return { levels, binHz: frames.binHz };
}

function louderHalf(frames: Frames): number[] {
  const totals = new Float64Array(frames.frameCount);
  for (let f = 0; f < frames.frameCount; f++) {
    for (let k = 1; k < frames.binCount; k++) totals[f]! += frames.power[f * frames.binCount + k]!;
  }
  const middle = median(totals);
  return Array.from(totals.keys()).filter((f) => totals[f]! >= middle && totals[f]! > 0);
}

const meanOf = (values: Float64Array, from: number, to: number): number => {
  let sum = 0;
  for (let k = from; k < to; k++) sum += values[k]!;
  return sum / Math.max(1, to - from);
};

/** Where the level falls off a cliff and stays down: the bin of the edge, or null. */
function highCliff(levels: Float64Array, binHz: Hertz): number | null {
  const near = Math.max(2, Math.round(150 / binHz));
  const far = Math.max(near + 2, Math.round(500 / binHz));
  const n = levels.length;
  const highest = new Float64Array(n + 1).fill(-Infinity);
  for (let k = n - 1; k >= 0; k--) highest[k] = Math.max(highest[k + 1]!, levels[k]!);
  for (let k = Math.round(1500 / binHz); k + near + 2 < n; k++) {
    const before = meanOf(levels, k - far, k - near);
    const after = meanOf(levels, k + near, Math.min(n, k + far));
    const floorTop = highest[k + near]!;
    const deep = before - after >= QUALITY_LIMITS.cliffDropDb.value && before - floorTop >= 20;
    if (deep || (before - after >= 12 && isFlatFloor(levels, k + near, before))) {
      return edgeBin(levels, k - near, Math.min(n - 1, k + far), before - 6);
    }
  }
  return null;
}

// A shallower step is a cliff too when nothing but an even floor follows: the sound had little treble.
function isFlatFloor(levels: Float64Array, from: number, before: number): boolean {
  const rest = levels.subarray(from);
  const top = quantile(rest, 0.98);
  return rest.length > 20 && before - top >= 10 && top - quantile(rest, 0.1) <= 4;
}

function edgeBin(levels: Float64Array, from: number, to: number, level: number): number {
  for (let k = Math.max(0, from); k <= to; k++) if (levels[k]! < level) return k;
  return to;
}

/** Lowest frequency with more than a filter's remains, from a spectrum of about 4 Hz resolution. */
function lowEdgeHz(spectrum: DbSpectrum): Hertz {
  const { binHz } = spectrum;
  const levels = runningMedian(spectrum.levels.subarray(0, Math.ceil(2000 / binHz)), 3);
  const first = Math.max(2, Math.ceil(8 / binHz));
  for (let k = Math.floor(800 / binHz); k * binHz > LOWEST_HZ; k--) {
    const above = median(levels.subarray(k, 2 * k));
    let below = -Infinity;
    for (let j = first; j <= 0.7 * k; j++) below = Math.max(below, levels[j]!);
    if (above - below < QUALITY_LIMITS.cliffDropDb.value) continue;
    for (let j = Math.ceil(0.7 * k); j < 2 * k; j++) {
      if (levels[j]! >= above - 15) return Math.max(LOWEST_HZ, j * binHz);
    }
  }
  return LOWEST_HZ;
}

/**
 * The band in which a recording carries sound, from the sound itself.
 *
 * High edge: the lowest frequency above 1.5 kHz at which the median spectrum, freed of lines by a running
 * median over 200 Hz, falls by 25 dB within 300 Hz and stays down to half the sample rate; a fall of 12 dB
 * is enough when an even floor follows. Low edge: the level stays 25 dB down over everything below it.
 * A spectrum that falls slowly has no edge. Never beyond half the sample rate; 20 Hz at the low end.
 */
export function usableBand(
  samples: ArrayLike<number>,
  sampleRateHz: Hertz,
): readonly [low: Hertz, high: Hertz] {
  const half = sampleRateHz / 2;
  const wide = typicalSpectrum(samples, sampleRateHz, 0.06);
  if (wide.levels.length < 8) return [LOWEST_HZ, half];
  const halfWidth = Math.max(2, Math.round(100 / wide.binHz));
  const edge = highCliff(runningMedian(wide.levels, halfWidth), wide.binHz);
  const highHz = edge === null ? half : edge * wide.binHz;
  return [lowEdgeHz(typicalSpectrum(samples, sampleRateHz, 0.2, 2000)), clamp(highHz, 100, half)];
}
