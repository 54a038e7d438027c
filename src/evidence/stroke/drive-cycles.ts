import type { ListeningContext } from "../context.js";
import type { Seconds } from "../../foundation/units.js";
import { TRACK_RATE_HZ, type LoudnessTrack } from "./loudness-track.js";
import { isDrumRate, rhythmOf, type Stroke, type StrokePattern } from "./stroke-pattern.js";
import { twoLevels, type TwoLevels } from "./two-levels.js";

const LEAST_CONTRAST_DB = 3;
const LEAST_SEPARATION = 3.6;
const SHORTEST_SECONDS = 1.5;

// Stretches on the upper level; those that the clip's ends or speech cut short are kept.
function stretches(track: LoudnessTrack, levels: TwoLevels, shortest: Seconds): Stroke[] {
  const { levelDb, excluded } = track;
  const rise = levels.low + 0.6 * (levels.high - levels.low);
  const fall = levels.low + 0.4 * (levels.high - levels.low);
  const found: Stroke[] = [];
  let start = -1;
  for (let i = 0; i <= levelDb.length; i++) {
    const value = i < levelDb.length && !excluded[i] ? levelDb[i]! : -Infinity;
    if (start < 0 && value > rise) start = i;
    if (start >= 0 && value < fall) {
      if ((i - start) / TRACK_RATE_HZ >= shortest) {
        found.push({ startSeconds: start / TRACK_RATE_HZ, endSeconds: i / TRACK_RATE_HZ });
      }
      start = -1;
    }
  }
  return found;
}

function smoothTrack(track: LoudnessTrack, halfWidth: number): LoudnessTrack {
  const { levelDb } = track;
  const sums = new Float64Array(levelDb.length + 1);
  for (let i = 0; i < levelDb.length; i++) sums[i + 1] = sums[i]! + levelDb[i]!;
  const out = levelDb.map((_, i) => {
    const from = Math.max(0, i - halfWidth);
    const to = Math.min(levelDb.length, i + halfWidth + 1);
    return (sums[to]! - sums[from]!) / (to - from);
  });
  return { ...track, levelDb: out };
}

/**
 * Seconds on and seconds off: a tumbling drum or a pulsed motor, heard as a loudness that stands on
 * two levels 3 dB or more apart. Null with fewer than two stretches on.
 */
export function findDriveCycles(
  context: ListeningContext,
  track: LoudnessTrack,
): StrokePattern | null {
  const slow = smoothTrack(track, Math.round(0.15 * TRACK_RATE_HZ));
  const levels = twoLevels(slow.levelDb.filter((_, i) => slow.excluded[i] === 0));
  if (!levels || levels.high - levels.low < LEAST_CONTRAST_DB) return null;
  if (levels.separation < LEAST_SEPARATION) return null;
  const strokes = stretches(slow, levels, SHORTEST_SECONDS);
  if (strokes.length < 2) return null;
  const rhythm = rhythmOf(strokes, 60);
  const periodSeconds =
    rhythm?.periodSeconds ?? strokes[1]!.startSeconds - strokes[0]!.startSeconds;
  return {
    kind: "cycles",
    strokes,
    periodSeconds,
    unevenness: rhythm && strokes.length > 2 ? rhythm.unevenness : 1,
    contrastDb: levels.high - levels.low,
    separation: levels.separation,
    drumRate: isDrumRate(context, 1 / periodSeconds),
  };
}
