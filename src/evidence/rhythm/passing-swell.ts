import { median, quantile } from "../../foundation/statistics.js";
import { thinned } from "../character/level-series.js";
import type { BandName, ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";

const SHORTEST_BLOCK_SECONDS = 0.5;
/** A long clip is cut into no more blocks than this. */
const MOST_BLOCKS = 40;
/** Blocks that must be left before and after the swell, and that it must last. */
const LEAST_AROUND = 3;
const LEAST_INSIDE = 4;
/** What lasts longer is the rule, and the rest a pause. */
const LONGEST_SHARE = 0.6;
const FEWEST_BLOCKS = 12;

/** A stretch of a clip in which the level stands above both what comes before and what comes after. */
export interface Swell {
  readonly db: number;
  readonly startSeconds: number;
  readonly seconds: number;
}

/** Level of a band in blocks, dB: its mean power, so that blows count. */
function blockLevels(context: ListeningContext, band: BandName): { db: number[]; seconds: number } {
  const clipSeconds = context.sound.length / context.soundRateHz;
  const seconds = Math.max(SHORTEST_BLOCK_SECONDS, clipSeconds / MOST_BLOCKS);
  const { values, rateHz } = thinned(context.envelope(band), 100);
  const size = Math.round(seconds * rateHz);
  const db: number[] = [];
  for (let start = 0; start + size <= values.length; start += size) {
    let sum = 0;
    for (let i = start; i < start + size; i++) sum += values[i]!;
    db.push(10 * Math.log10(sum / size + 1e-14));
  }
  return { db, seconds: size / rateHz };
}

/**
 * The clearest swell of a series of levels, with
 * db = min(lower quartile inside - median before, the same - median after): of all stretches [a, b) of 4 blocks
 * and more the one with the largest db √(b - a), as chance makes short ones high. Quantiles, so that a
 * single knock or a pause is none; a level that only rises, or only falls, has none either. Null for fewer than 12
 * levels.
 */
export function passingSwell(levels: readonly number[], blockSeconds: number): Swell | null {
  const n = levels.length;
  if (n < FEWEST_BLOCKS) return null;
  let best = { db: -Infinity, weight: -Infinity, a: 0, b: 0 };
  for (let a = LEAST_AROUND; a <= n - LEAST_AROUND - LEAST_INSIDE; a++) {
    const before = median(levels.slice(0, a));
    const last = Math.min(n - LEAST_AROUND, a + Math.floor(LONGEST_SHARE * n));
    for (let b = a + LEAST_INSIDE; b <= last; b++) {
      const inside = quantile(levels.slice(a, b), 0.25);
      const db = inside - Math.max(before, median(levels.slice(b)));
      const weight = db * Math.sqrt(b - a);
      if (weight > best.weight) best = { db, weight, a, b };
    }
  }
  return {
    db: best.db,
    startSeconds: best.a * blockSeconds,
    seconds: (best.b - best.a) * blockSeconds,
  };
}

/** The clearest swell among the bands, as a measurement in dB. */
export function swellFeature(context: ListeningContext, bands: readonly BandName[]): Measurement {
  const swells = bands.flatMap((band) => {
    const { db, seconds } = blockLevels(context, band);
    const swell = passingSwell(db, seconds);
    return swell === null ? [] : [swell];
  });
  if (swells.length === 0) return missing("short");
  const best = swells.reduce((a, b) => (b.db > a.db ? b : a));
  return measured(Math.max(0, best.db), 1, {
    startSeconds: best.startSeconds,
    seconds: best.seconds,
  });
}
