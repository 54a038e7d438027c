import { mean } from "../foundation/statistics.js";
import type { BlockFigures } from "./portrait.js";

const LEAST_BLOCKS = 2;

/** One recording in figures: means over its blocks. */
export type Summary = ReadonlyMap<string, number>;

/** Blocks taken together; a figure that any of them lacks is left out. Empty when there are fewer than two. */
export function summaryOf(blocks: readonly BlockFigures[]): Summary {
  const out = new Map<string, number>();
  if (blocks.length < LEAST_BLOCKS) return out;
  for (const name of Object.keys(blocks[0]!)) {
    const values = blocks.flatMap((block) => block[name] ?? []);
    if (values.length === blocks.length) out.set(name, mean(values));
  }
  return out;
}
