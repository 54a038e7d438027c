import { mean, median, quantile } from "../../foundation/statistics.js";
import { thinned } from "../character/level-series.js";
import type { ListeningContext } from "../context.js";

const BLOCK_SECONDS = 0.5;
const FEWEST_BLOCKS = 12;

/** How the level moves over the clip. */
export interface LevelTrend {
  /** Fitted change from start to end, dB; negative when it falls. */
  readonly changeDb: number;
  /** Share of the level's variance that the straight line explains, 0 to 1. */
  readonly explained: number;
}

/**
 * Straight line through the level of 0.5-1 kHz in dB, by Theil and Sen's median of slopes, so that knocks and a
 * pause do not turn it. A drum that runs out grows quieter all the time, one that is driven up louder. Null for
 * clips under 6 s.
 */
export function levelTrend(context: ListeningContext): LevelTrend | null {
  const { values, rateHz } = thinned(context.envelope("octave-500"), 100);
  const size = Math.round(BLOCK_SECONDS * rateHz);
  const levels: number[] = [];
  for (let start = 0; start + size <= values.length; start += size) {
    // The quieter part of each half second: blows and speech stand above it.
    levels.push(10 * Math.log10(quantile(values.subarray(start, start + size), 0.3) + 1e-14));
  }
  if (levels.length < FEWEST_BLOCKS) return null;
  const slopes: number[] = [];
  for (let i = 0; i < levels.length; i++) {
    for (let j = i + 3; j < levels.length; j++) slopes.push((levels[j]! - levels[i]!) / (j - i));
  }
  const slope = median(slopes);
  const middle = (levels.length - 1) / 2;
  const centre = mean(levels);
  let all = 1e-9;
  let rest = 0;
  levels.forEach((level, i) => {
    all += (level - centre) ** 2;
    rest += (level - centre - slope * (i - middle)) ** 2;
  });
  return {
    changeDb: slope * (levels.length - 1),
    explained: Math.max(0, 1 - rest / all),
  };
}
