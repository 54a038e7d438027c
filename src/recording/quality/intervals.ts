import type { Interval } from "../recording.js";
import type { Seconds } from "../../foundation/units.js";

/** Sorted, widened by a guard on both sides, cut to [0, duration] and joined where they meet. */
export function joinIntervals(
  intervals: readonly Interval[],
  durationSeconds: Seconds,
  guardSeconds: Seconds = 0,
): Interval[] {
  const joined: { startSeconds: number; endSeconds: number }[] = [];
  const sorted = intervals
    .map((it) => ({
      startSeconds: Math.max(0, it.startSeconds - guardSeconds),
      endSeconds: Math.min(durationSeconds, it.endSeconds + guardSeconds),
    }))
    .filter((it) => it.endSeconds > it.startSeconds)
    .sort((a, b) => a.startSeconds - b.startSeconds);
  for (const next of sorted) {
    const last = joined[joined.length - 1];
    if (last && next.startSeconds <= last.endSeconds) {
      last.endSeconds = Math.max(last.endSeconds, next.endSeconds);
    } else joined.push(next);
  }
  return joined;
}

/** What is left of [0, duration] without the given joined intervals; pieces under `shortest` fall away. */
export function remainingIntervals(
  removed: readonly Interval[],
  durationSeconds: Seconds,
  shortestSeconds: Seconds,
): Interval[] {
  const left: Interval[] = [];
  let startSeconds = 0;
  for (const gap of [...removed, { startSeconds: durationSeconds, endSeconds: durationSeconds }]) {
    if (gap.startSeconds - startSeconds >= shortestSeconds) {
      left.push({ startSeconds, endSeconds: gap.startSeconds });
    }
    startSeconds = gap.endSeconds;
  }
  return left;
}

/** Summed length. */
export const totalSeconds = (intervals: readonly Interval[]): Seconds =>
  intervals.reduce((sum, it) => sum + it.endSeconds - it.startSeconds, 0);

/** Runs of true flags as [first, last] indices, joined over gaps of up to `bridge` false ones. */
export function runsOf(flags: ArrayLike<boolean | number>, bridge = 0): [number, number][] {
  const runs: [number, number][] = [];
  for (let i = 0; i < flags.length; i++) {
    if (!flags[i]) continue;
    const last = runs[runs.length - 1];
    if (last && i - last[1] <= bridge + 1) last[1] = i;
    else runs.push([i, i]);
  }
  return runs;
}
