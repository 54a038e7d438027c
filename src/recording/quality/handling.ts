import { mean, quantile, variance } from "../../foundation/statistics.js";
import { coarseRunningMedian } from "../../signal/running-median.js";
import { bandLevelsDb } from "./frames.js";
import { runsOf } from "./intervals.js";
import { meanDb, type Levels } from "./levels.js";
import type { Interval } from "../recording.js";

const RISE_DB = 15;
const OVER_USUAL_DB = 10;

// A tub that knocks does so once a turn; hands and wind keep no time.
function keepsTime(startSeconds: readonly number[]): boolean {
  if (startSeconds.length < 3) return false;
  const gaps = startSeconds.slice(1).map((start, i) => start - startSeconds[i]!);
  return Math.sqrt(variance(gaps)) < 0.25 * mean(gaps);
}

/**
 * Bumps against the phone and gusts of wind: bursts below 90 Hz that stand 15 dB over the surroundings and
 * 10 dB over what the clip's own seconds usually reach. Blows that keep time belong to the machine.
 */
export function findHandling(levels: Levels): Interval[] {
  const { frames } = levels;
  if (frames.frameCount < 60) return [];
  const low = bandLevelsDb(frames, 20, 90);
  const around = coarseRunningMedian(low, Math.round(2 / frames.hopSeconds), 8);
  const rise = low.map((level, i) => level - around[i]!);
  const aSecond = 2 * Math.round(0.5 / frames.hopSeconds);
  const tops: number[] = [];
  for (let i = 0; i < rise.length; i += aSecond) {
    tops.push(
      rise.subarray(i, i + aSecond).reduce((top, value) => Math.max(top, value), -Infinity),
    );
  }
  const limit = Math.max(RISE_DB, quantile(tops, 0.7) + OVER_USUAL_DB);
  const runs = runsOf(
    Array.from(rise, (value) => value >= limit),
    Math.round(0.15 / frames.hopSeconds),
  );
  const isBurst = ([first, last]: readonly [number, number]): boolean => {
    const side = (from: number): number => meanDb(low, from, from + aSecond / 2);
    const peak = low.subarray(first, last + 1).reduce((top, value) => Math.max(top, value));
    const before = side(first - aSecond / 2 - 4);
    const after = side(last + 20);
    // A machine that starts or stops is loud on one side only.
    return !(before > peak - OVER_USUAL_DB || after > peak - OVER_USUAL_DB);
  };
  const found = runs.filter(isBurst).map(([first, last]) => ({
    startSeconds: first * frames.hopSeconds,
    endSeconds: last * frames.hopSeconds + frames.windowSeconds,
  }));
  return keepsTime(found.map((it) => it.startSeconds)) ? [] : found;
}
