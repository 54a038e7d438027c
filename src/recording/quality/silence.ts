import { quantiles } from "../../foundation/statistics.js";
import { runsOf } from "./intervals.js";
import { blockLevelsDb, type Levels } from "./levels.js";
import { QUALITY_LIMITS } from "./limits.data.js";
import type { Interval } from "../recording.js";

const FRAMES_A_BLOCK = 6;
const SHORTEST_SECONDS = 0.8;

/**
 * Stretches of 0.8 s or more in which no machine sounds.
 *
 * The clip is its own measure: silent is what lies within 6 dB of its quietest blocks and at least 15 dB
 * under its loud ones, so a machine that runs throughout has no silence at any gain. Below -85 dBFS is
 * silent in any case.
 */
export function findSilence(levels: Levels): Interval[] {
  const blocks = blockLevelsDb(levels.middleDb, FRAMES_A_BLOCK);
  const [floor, loud] = quantiles(blocks, [0.02, 0.9]) as [number, number];
  const relative = Math.min(floor + Math.min(6, (loud - floor) / 3), loud - 15);
  const limit = Math.max(relative, QUALITY_LIMITS.silentLevelDb.value);
  const seconds = FRAMES_A_BLOCK * levels.frames.hopSeconds;
  const flags = Array.from(blocks, (level) => level <= limit);
  return runsOf(flags, 1)
    .map(([first, last]) => ({ startSeconds: first * seconds, endSeconds: (last + 1) * seconds }))
    .filter((it) => it.endSeconds - it.startSeconds >= SHORTEST_SECONDS);
}
