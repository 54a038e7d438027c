import { nthSmallest } from "../../foundation/nth-smallest.js";
import { quantile } from "../../foundation/statistics.js";
import { logBackground } from "../../signal/spectral-background.js";
import type { ListeningContext } from "../context.js";
import type { SoundFrames } from "./sound-frames.js";

const LOWEST_HZ = 300;
const HIGHEST_HZ = 7500;
const BACKGROUND_HZ = 240;
/** Height over the surroundings and over the clip's own steady lines from which a ridge is followed. */
const RIDGE_DB = 9;
const PEAKS_PER_FRAME = 6;
const LEAST_FRAMES = 5;
/** Largest step in pitch from frame to frame: 4 % or two and a half bins. */
const STEP_SHARE = 0.04;
const LARGEST_GAP = 2;

export interface RidgePoint {
  readonly frame: number;
  readonly hz: number;
  /** Height over the surroundings, dB. */
  readonly db: number;
}

/** A narrow line that is followed from frame to frame while it moves. */
export interface Ridge {
  readonly points: readonly RidgePoint[];
}

export interface RidgeMap {
  readonly ridges: readonly Ridge[];
  /** Shape [frameCount]: highest point of each frame over its surroundings, dB; NaN where unusable. */
  readonly highestDb: Float64Array;
}

const TO_DB = 10 / Math.LN10;

/** Height of every bin over its surroundings, dB, three frames smoothed. */
function heights(frames: SoundFrames): Float32Array[] {
  const { frames: power, binHz } = frames.power;
  const halfWidth = Math.round(BACKGROUND_HZ / binHz);
  const bins = power[0]?.length ?? 0;
  const log = new Float64Array(bins);
  return power.map((middle, i) => {
    const before = power[i - 1] ?? middle;
    const after = power[i + 1] ?? middle;
    for (let k = 0; k < bins; k++) {
      log[k] = Math.log((before[k]! + middle[k]! + after[k]!) / 3 + 1e-20);
    }
    const level = logBackground(log, halfWidth);
    const height = new Float32Array(bins);
    for (let k = 0; k < bins; k++) height[k] = (log[k]! - level[k]!) * TO_DB;
    return height;
  });
}

/** Height that each bin keeps up for four fifths of the clip: lines that are always there. */
function steadyHeights(height: readonly Float32Array[], usable: Uint8Array): Float32Array {
  const chosen = height.filter((_, i) => usable[i] === 1 && i % 4 === 0);
  const bins = height[0]?.length ?? 0;
  const steady = new Float32Array(bins);
  if (chosen.length < 5) return steady;
  const column = new Float64Array(chosen.length);
  const place = Math.floor(0.2 * chosen.length);
  for (let k = 0; k < bins; k++) {
    for (let i = 0; i < chosen.length; i++) column[i] = chosen[i]![k]!;
    steady[k] = Math.max(0, nthSmallest(column, place));
  }
  // A line that wavers by a bin stays the same line.
  return steady.map((value, k) => Math.max(value, steady[k - 1] ?? 0, steady[k + 1] ?? 0));
}

function framePeaks(
  height: Float32Array,
  steady: Float32Array,
  binHz: number,
  highHz: number,
): { hz: number; db: number }[] {
  const peaks: { hz: number; db: number }[] = [];
  const last = Math.min(height.length - 3, Math.floor(highHz / binHz));
  for (let k = Math.ceil(LOWEST_HZ / binHz); k <= last; k++) {
    const here = height[k]!;
    if (here - steady[k]! < RIDGE_DB) continue;
    if (here < height[k - 1]! || here <= height[k + 1]!) continue;
    if (here < height[k - 2]! || here < height[k + 2]!) continue;
    const left = height[k - 1]!;
    const right = height[k + 1]!;
    const offset = (0.5 * (left - right)) / (left - 2 * here + right || -1);
    peaks.push({ hz: (k + offset) * binHz, db: here });
  }
  return peaks.sort((a, b) => b.db - a.db).slice(0, PEAKS_PER_FRAME);
}

/**
 * Follows narrow lines above 300 Hz.
 *
 * Each frame's peaks (9 dB over their surroundings and, unless `keepLasting`, over the height that the
 * line keeps all the time) are joined to the ridge nearest in pitch; a ridge must hold for five frames,
 * which an isolated burst of noise does not.
 */
export function findRidges(
  context: ListeningContext,
  frames: SoundFrames,
  keepLasting: boolean,
): RidgeMap {
  const { binHz } = frames.power;
  const height = heights(frames);
  const steady = keepLasting
    ? new Float32Array(height[0]?.length ?? 0)
    : steadyHeights(height, frames.usable);
  const highHz = Math.min(HIGHEST_HZ, context.recording.bandHz[1]);
  const highestDb = new Float64Array(height.length).fill(NaN);
  const done: RidgePoint[][] = [];
  let open: RidgePoint[][] = [];
  height.forEach((frame, i) => {
    const peaks = frames.usable[i] ? framePeaks(frame, steady, binHz, highHz) : [];
    if (frames.usable[i]) highestDb[i] = peaks[0]?.db ?? 0;
    const free = [...peaks];
    for (const ridge of open) {
      const last = ridge[ridge.length - 1]!;
      const reach = Math.max(STEP_SHARE * last.hz, 2.5 * binHz);
      const near = free
        .filter(({ hz }) => Math.abs(hz - last.hz) <= reach)
        .sort((a, b) => Math.abs(a.hz - last.hz) - Math.abs(b.hz - last.hz))[0];
      if (!near) continue;
      free.splice(free.indexOf(near), 1);
      ridge.push({ frame: i, ...near });
    }
    const ended = open.filter((ridge) => i - ridge[ridge.length - 1]!.frame > LARGEST_GAP);
    done.push(...ended);
    open = open.filter((ridge) => !ended.includes(ridge));
    open.push(...free.map((peak) => [{ frame: i, ...peak }]));
  });
  const ridges = [...done, ...open]
    .filter((points) => points.length >= LEAST_FRAMES)
    .map((points) => ({ points }));
  return { ridges, highestDb };
}

/** Pitch spread of a ridge: half of its 10-90 % range over its middle. */
export function pitchSpread({ points }: Ridge): number {
  const hz = points.map((point) => point.hz);
  return (quantile(hz, 0.9) - quantile(hz, 0.1)) / (2 * quantile(hz, 0.5));
}
