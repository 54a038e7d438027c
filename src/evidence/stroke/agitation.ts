import type { ListeningContext } from "../context.js";
import { median, quantile, quantiles } from "../../foundation/statistics.js";
import { TRACK_RATE_HZ, type LoudnessTrack } from "./loudness-track.js";
import { isDrumRate, rhythmOf, type Stroke, type StrokePattern } from "./stroke-pattern.js";
import { twoLevels } from "./two-levels.js";
import { valleys } from "./valleys.js";

/** A sine stands 4.1 apart; what keeps two levels stands farther. */
const SINE_SEPARATION = 4.6;
/** Where an agitator is known to work, its strokes may swell like a sine. */
const TOLD_SEPARATION = 3.6;
/** Strokes per minute of an agitator: 24 (slow, both ways counted) to 270; seconds per stroke. */
const SHORTEST_PERIOD = 0.22;
const LONGEST_PERIOD = 2.5;
/** Strokes stand at least this far above the pauses. */
const LEAST_CONTRAST_DB = 3;

/** How clearly two levels must stand apart; infinite where there is no agitator or it cannot work. */
function separationNeeded(context: ListeningContext): number {
  const { profiles, toldPhase } = context;
  const axes = profiles.map((profile) => profile.axis);
  if (axes.length > 0 && axes.every((axis) => axis === "horizontal")) return Infinity;
  if (toldPhase !== "wash" && toldPhase !== "unknown") return Infinity;
  const told = toldPhase === "wash" && axes.length > 0 && axes.every((axis) => axis === "vertical");
  return told ? TOLD_SEPARATION : SINE_SEPARATION;
}

interface Swell {
  readonly stroke: Stroke;
  readonly heightDb: number;
  /** Height of each step between the valleys' level (0) and the stroke's own level (1). */
  readonly share: Float64Array;
}

// A stretch between two valleys. Its own height counts, as the way back is often softer than the way
// out; the loudest quarter is cut, so that a blow does not pass for the stroke's level.
function swellBetween(levelDb: Float64Array, from: number, to: number): Swell | null {
  const inside = levelDb.subarray(from, to + 1);
  const high = quantile(inside, 0.75);
  const share = new Float64Array(inside.length);
  for (let i = 0; i < inside.length; i++) {
    const t = i / Math.max(1, inside.length - 1);
    const floor = (1 - t) * inside[0]! + t * inside[inside.length - 1]!;
    share[i] = Math.min(1, (inside[i]! - floor) / Math.max(0.5, high - floor));
  }
  const first = share.findIndex((v) => v >= 0.5);
  let last = share.length - 1;
  while (last > first && share[last]! < 0.5) last--;
  if (first < 0 || last <= first) return null;
  return {
    stroke: {
      startSeconds: (from + first) / TRACK_RATE_HZ,
      endSeconds: (from + last + 1) / TRACK_RATE_HZ,
    },
    heightDb: high - 0.5 * (inside[0]! + inside[inside.length - 1]!),
    share,
  };
}

// Only swells that follow each other evenly; speech, refills and ends of the programme drop out.
function longestEvenRun(swells: readonly Swell[]): Swell[] {
  const rhythm = rhythmOf(
    swells.map((swell) => swell.stroke),
    LONGEST_PERIOD,
  );
  if (!rhythm) return [];
  let best: Swell[] = [];
  let run: Swell[] = [];
  for (const swell of swells) {
    const before = run[run.length - 1];
    const gap = before ? swell.stroke.startSeconds - before.stroke.startSeconds : 0;
    // Way out and way back may take unequal times; twice the period is one stroke not heard.
    if (before && (gap > 2.4 * rhythm.periodSeconds || gap < 0.3 * rhythm.periodSeconds)) run = [];
    run.push(swell);
    if (run.length > best.length) best = [...run];
  }
  return best;
}

/**
 * Strokes of an agitator: swells of the loudness between valleys, in even succession, each of which keeps
 * to two levels (its own and the pause's) more than a sine does. Null when there are fewer than five.
 */
export function findAgitation(
  context: ListeningContext,
  track: LoudnessTrack,
): StrokePattern | null {
  const needed = separationNeeded(context);
  if (needed === Infinity) return null;
  const { levelDb, excluded, jitterDb } = track;
  const [low, high] = quantiles(levelDb, [0.05, 0.95]) as [number, number];
  const places = valleys(levelDb, excluded, Math.max(2.5, 5 * jitterDb, 0.2 * (high - low)));
  const swells: Swell[] = [];
  for (let i = 1; i < places.length; i++) {
    const swell = swellBetween(levelDb, places[i - 1]!, places[i]!);
    if (swell) swells.push(swell);
  }
  const run = longestEvenRun(swells);
  const strokes = run.map((swell) => swell.stroke);
  const rhythm = rhythmOf(strokes, LONGEST_PERIOD);
  if (!rhythm || strokes.length < 5 || rhythm.unevenness > 0.2) return null;
  if (rhythm.periodSeconds < SHORTEST_PERIOD || rhythm.periodSeconds > LONGEST_PERIOD) return null;
  const lengths = strokes.map((stroke) => stroke.endSeconds - stroke.startSeconds);
  // A blow that dies away fills less of the time between blows than a stroke does.
  if (median(lengths) < 0.3 * rhythm.periodSeconds) return null;
  const contrastDb = median(run.map((swell) => swell.heightDb));
  if (contrastDb < LEAST_CONTRAST_DB) return null;
  const separation = twoLevels(Float64Array.from(run.flatMap((swell) => [...swell.share])));
  if (!separation || separation.separation < needed) return null;
  return {
    kind: "agitation",
    strokes,
    periodSeconds: rhythm.periodSeconds,
    unevenness: rhythm.unevenness,
    contrastDb,
    separation: separation.separation,
    drumRate: isDrumRate(context, 1 / rhythm.periodSeconds),
  };
}
