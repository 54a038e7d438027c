import { quantile } from "../../foundation/statistics.js";
import { coarseRunningMedian } from "../../signal/running-median.js";
import { binsOfBand } from "./frames.js";
import type { Levels } from "./levels.js";
import type { Hertz } from "../../foundation/units.js";

const HOLE_DB = 25;

/**
 * Share of time-frequency cells of 300-3400 Hz that lie 25 dB under their surroundings.
 *
 * Each cell is compared with its bin's median over 4 s, after the frame's own median has been taken off, so
 * that a level common to all bins (thumps, swelling) does not count. Steady noise has exponentially
 * distributed powers: 1 - 2^(-1/316) = 0.22 % of its cells lie that deep.
 */
export function holeShare(levels: Levels, topHz: Hertz): number {
  const { frames } = levels;
  const [low, high] = binsOfBand(frames, 300, Math.min(3400, 0.6 * topHz));
  const width = high - low + 1;
  const picked = loudFrames(levels);
  const rows = picked.length;
  if (width < 10 || rows < 40) return 0;
  const cells = new Float32Array(rows * width);
  const sorted = new Float32Array(width);
  for (let r = 0; r < rows; r++) {
    const row = picked[r]! * frames.binCount + low;
    for (let k = 0; k < width; k++) {
      cells[r * width + k] = 10 * Math.log10(frames.power[row + k]! + 1e-15);
    }
    sorted.set(cells.subarray(r * width, (r + 1) * width));
    sorted.sort();
    const middle = sorted[width >> 1]!;
    for (let k = 0; k < width; k++) cells[r * width + k]! -= middle;
  }
  return countHoles(cells, rows, width, Math.round(1 / frames.hopSeconds)) / (rows * width);
}

// Every fourth frame that is no pause: within 8 dB of the typical level of its 4 s.
function loudFrames(levels: Levels): number[] {
  const { middleDb, frames } = levels;
  const around = coarseRunningMedian(middleDb, Math.round(2 / frames.hopSeconds), 16);
  const picked: number[] = [];
  for (let f = 0; f < frames.frameCount; f += 4) {
    if (Math.abs(middleDb[f]! - around[f]!) < 8) picked.push(f);
  }
  return picked;
}

function countHoles(cells: Float32Array, rows: number, width: number, span: number): number {
  let holes = 0;
  for (let from = 0; from < rows; from += span) {
    const count = Math.min(span, rows - from);
    const column = new Float32Array(count);
    for (let k = 0; k < width; k++) {
      for (let i = 0; i < count; i++) column[i] = cells[(from + i) * width + k]!;
      column.sort();
      const limit = column[count >> 1]! - HOLE_DB;
      for (let i = 0; i < count && column[i]! < limit; i++) holes++;
    }
  }
  return holes;
}

/**
 * The steady part sinks by 8 dB in most octaves after the start while the blows stay as loud: a phone that
 * has learnt the noise. Compares the quiet moments of the first 0.6 s
 * with most of seconds 3 to 8, so that a machine that pauses and goes on does not count.
 */
export function floorSinksAtStart(levels: Levels): boolean {
  const { hopSeconds, frameCount } = levels.frames;
  const at = (seconds: number): number => Math.round(seconds / hopSeconds);
  if (frameCount < at(5)) return false;
  const bands = levels.bandDb.slice(1);
  const sunk = bands.filter((band) => {
    const start = quantile(band.subarray(0, at(0.6)), 0.2);
    const later = quantile(band.subarray(at(3), at(8)), 0.6);
    return start - later >= 8;
  });
  const early = quantile(levels.middleDb.subarray(0, at(1.5)), 0.99);
  const late = levels.middleDb.subarray(at(3), at(8));
  const top = quantile(late, 0.99);
  return sunk.length >= 0.7 * bands.length && top - quantile(late, 0.2) >= 10 && early - top <= 4;
}

/** The phone removes steady sound. */
export const suppressesNoise = (levels: Levels, topHz: Hertz): boolean =>
  holeShare(levels, topHz) > 0.02 || floorSinksAtStart(levels);
