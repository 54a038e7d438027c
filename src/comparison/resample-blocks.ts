import { createRandom } from "../foundation/random.js";
import { quantile } from "../foundation/statistics.js";
import type { Spread } from "./comparison.js";
import type { FineLevels } from "./fine-bands.js";
import { BLOCK_SECONDS, HOP_SECONDS } from "./portrait.js";
import { summaryOf } from "./summary.js";

const RESAMPLES = 200;
const SEED = 4711;

/** Both recordings drawn anew. */
export interface DrawnPair {
  readonly before: FineLevels;
  readonly after: FineLevels;
}

/**
 * Moving-block bootstrap of both recordings: as many blocks as lie side by side are drawn with
 * replacement from the overlapping ones.
 *
 * Source: Künsch, Ann. Statist. 17 (1989) 1217. Seeded: the same recordings give the same draws.
 */
export function drawPairs(
  before: readonly FineLevels[],
  after: readonly FineLevels[],
): DrawnPair[] {
  const random = createRandom(SEED);
  const drawn = (blocks: readonly FineLevels[]): FineLevels => {
    const count = Math.max(2, Math.ceil((blocks.length * HOP_SECONDS) / BLOCK_SECONDS));
    return summaryOf(Array.from({ length: count }, () => random.pick(blocks)));
  };
  return Array.from({ length: RESAMPLES }, () => ({
    before: drawn(before),
    after: drawn(after),
  }));
}

/**
 * A value with the 90 % interval of its draws, moved so that the middle draw lies on the value: few
 * blocks bias the loudest moments.
 */
export function spreadOf(value: number, draws: readonly number[]): Spread {
  const move = value - quantile(draws, 0.5);
  return { value, low: quantile(draws, 0.05) + move, high: quantile(draws, 0.95) + move };
}
