import { coarseRunningMedian } from "../signal/running-median.js";

const LOWEST = -1;
const HIGHEST = 4;

/** Mean of ln power over frames; shape as one frame. */
export function meanFrame(frames: readonly Float64Array[]): Float64Array {
  const out = new Float64Array(frames[0]?.length ?? 0);
  for (const frame of frames) for (let k = 0; k < out.length; k++) out[k]! += frame[k]!;
  for (let k = 0; k < out.length; k++) out[k]! /= Math.max(1, frames.length);
  return out;
}

/** Smooth background of a mean ln-power spectrum: running median over ±halfHz. */
export function backgroundOf(frame: Float64Array, binHz: number, halfHz: number): Float64Array {
  const half = Math.max(4, Math.round(halfHz / binHz));
  return coarseRunningMedian(frame, half, Math.max(1, half >> 1));
}

/**
 * Takes the background and what is left of slow colour off one frame of ln power, in place: excess over
 * the surroundings in nepers of power, clipped to -1..4 so that one strong line does not rule, mean zero.
 */
export function whitenFrame(frame: Float64Array, background: Float64Array, half: number): void {
  const n = frame.length;
  for (let k = 0; k < n; k++) frame[k]! -= background[k]!;
  // Moving mean of the clipped excess, taken with a running sum.
  const clipped = scratchOf(n);
  for (let k = 0; k < n; k++) clipped[k] = Math.max(-1.5, Math.min(1.5, frame[k]!));
  let sum = 0;
  let from = 0;
  let to = 0;
  for (let k = 0; k < n; k++) {
    const high = Math.min(n, k + half + 1);
    const low = Math.max(0, k - half);
    while (to < high) sum += clipped[to++]!;
    while (from < low) sum -= clipped[from++]!;
    frame[k] = Math.max(LOWEST, Math.min(HIGHEST, frame[k]! - sum / (to - from)));
  }
}

let scratch = new Float64Array(0);
function scratchOf(n: number): Float64Array {
  if (scratch.length < n) scratch = new Float64Array(n);
  return scratch;
}
