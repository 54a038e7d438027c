import { mean } from "../foundation/statistics.js";
import type { BlockFigures } from "./portrait.js";

/** Share of the blocks that counts as a recording's loudest moments. */
const TOP_SHARE = 0.25;
const LEAST_BLOCKS = 2;

/** One recording in figures: means over blocks, and under `top NAME` means over the highest quarter. */
export type Summary = ReadonlyMap<string, number>;

function topMean(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => b - a);
  return mean(sorted.slice(0, Math.ceil(TOP_SHARE * sorted.length)));
}

/** Blocks taken together. Empty when there are fewer than two. */
export function summaryOf(blocks: readonly BlockFigures[]): Summary {
  const out = new Map<string, number>();
  if (blocks.length < LEAST_BLOCKS) return out;
  for (const name of Object.keys(blocks[0]!)) {
    const values = blocks.flatMap((block) => block[name] ?? []);
    if (values.length < blocks.length) continue;
    out.set(name, mean(values));
    out.set(`top ${name}`, topMean(values));
  }
  return out;
}
