import type { ListeningContext } from "../context.js";
import type { Seconds } from "../../foundation/units.js";
import { median, quantile } from "../../foundation/statistics.js";
import { loudnessTrack, TRACK_RATE_HZ, type LoudnessTrack } from "./loudness-track.js";
import { twoLevels, type TwoLevels } from "./two-levels.js";

/** One stretch in which the motor drives. */
export interface Stroke {
  readonly startSeconds: Seconds;
  readonly endSeconds: Seconds;
}

/** On and off of the drive as it is heard. */
export interface StrokePattern {
  /** `agitation`: strokes of a second or less in even succession; `cycles`: seconds on, seconds off. */
  readonly kind: "agitation" | "cycles";
  readonly strokes: readonly Stroke[];
  /** Median time from one start to the next. */
  readonly periodSeconds: Seconds;
  /** Robust deviation of that time over the time itself. */
  readonly unevenness: number;
  /** Level of the strokes over the pauses, dB. */
  readonly contrastDb: number;
  /** Distance of the two levels over the spread about them. */
  readonly separation: number;
  /** The strokes' rate is that of the drum's own turning, so that they may be its modulation. */
  readonly drumRate: boolean;
}

// `cut`: keep stretches that the clip's ends or speech cut short; their length cannot be told.
function stretches(
  track: LoudnessTrack,
  levels: TwoLevels,
  shortest: Seconds,
  cut: boolean,
): Stroke[] {
  const { levelDb, excluded } = track;
  const rise = levels.low + 0.6 * (levels.high - levels.low);
  const fall = levels.low + 0.4 * (levels.high - levels.low);
  const found: Stroke[] = [];
  let start = -1;
  for (let i = 0; i <= levelDb.length; i++) {
    const value = i < levelDb.length && !excluded[i] ? levelDb[i]! : -Infinity;
    if (start < 0 && value > rise) start = i;
    if (start >= 0 && value < fall) {
      const whole = start > 0 && i < levelDb.length && !excluded[i] && !excluded[start - 1];
      if ((whole || cut) && (i - start) / TRACK_RATE_HZ >= shortest) {
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

/** Rate of the drum's turns, and of its lifters and belt, that strokes could be mistaken for. */
function isDrumRate(context: ListeningContext, rateHz: number): boolean {
  const { drumRpm, movement } = context.speed;
  if (drumRpm === null || movement === "stop-and-go" || movement === "still") return false;
  return [0.5, 1, 2, 3].some((k) => Math.abs((k * drumRpm.value) / 60 / rateHz - 1) < 0.04);
}

/** A sine stands 4.1 apart; what keeps two levels stands farther. */
const SINE_SEPARATION = 4.6;
/** Where an agitator is known to work, its strokes may swell like a sine. */
const TOLD_SEPARATION = 3.7;

/** How clearly two levels must stand apart; infinite where there is no agitator or it cannot work. */
function separationNeeded(context: ListeningContext): number {
  const { profiles, toldPhase } = context;
  const axes = profiles.map((profile) => profile.axis);
  if (axes.length > 0 && axes.every((axis) => axis === "horizontal")) return Infinity;
  if (toldPhase !== "wash" && toldPhase !== "unknown") return Infinity;
  const told = toldPhase === "wash" && axes.length > 0 && axes.every((axis) => axis === "vertical");
  return told ? TOLD_SEPARATION : SINE_SEPARATION;
}

interface Rhythm {
  readonly period: Seconds;
  readonly unevenness: number;
}

function rhythmOf(strokes: readonly Stroke[], longestGap: Seconds): Rhythm | null {
  const gaps: number[] = [];
  for (let i = 1; i < strokes.length; i++) {
    const gap = strokes[i]!.startSeconds - strokes[i - 1]!.startSeconds;
    if (gap <= longestGap) gaps.push(gap);
  }
  if (gaps.length < 2) return null;
  const period = median(gaps);
  const off = gaps.map((gap) => Math.abs(gap - period) / period);
  return { period, unevenness: 1.4826 * median(off) + 0.5 * quantile(off, 0.75) };
}

// The levels of strokes are read where it is most lively, so that a still end of the clip
// does not stand for the pauses: half-clip windows are tried beside the whole.
function windows(count: number): [number, number][] {
  const whole: [number, number] = [0, count];
  if (count < 12 * TRACK_RATE_HZ) return [whole];
  const half = count >> 1;
  return [whole, [0, half], [half >> 1, half + (half >> 1)], [half, count]];
}

function agitation(context: ListeningContext, track: LoudnessTrack): StrokePattern | null {
  let best: StrokePattern | null = null;
  for (const [from, to] of windows(track.levelDb.length)) {
    const raw = track.levelDb.subarray(from, to);
    // Blows at the strokes' ends would pass for the upper level: heights above the loudest fifth are cut.
    const ceiling = quantile(raw, 0.8);
    const part = {
      ...track,
      levelDb: raw.map((v) => Math.min(v, ceiling)),
      excluded: track.excluded.subarray(from, to),
    };
    const levels = twoLevels(part.levelDb.filter((_, i) => part.excluded[i] === 0));
    if (!levels) continue;
    const strokes = stretches(part, levels, 0.1, false).map((stroke) => ({
      startSeconds: stroke.startSeconds + from / TRACK_RATE_HZ,
      endSeconds: stroke.endSeconds + from / TRACK_RATE_HZ,
    }));
    const rhythm = rhythmOf(strokes, 3);
    if (!rhythm || strokes.length < 5 || rhythm.period < 0.22 || rhythm.period > 2.5) continue;
    const contrastDb = levels.high - levels.low;
    const clear =
      contrastDb > Math.max(2.5, 4 * track.jitterDb) &&
      levels.separation > separationNeeded(context);
    const lengths = strokes.map((stroke) => stroke.endSeconds - stroke.startSeconds);
    // A blow that dies away fills less of the time between blows than a stroke does.
    const lasting = median(lengths) > 0.3 * rhythm.period;
    if (!clear || !lasting || rhythm.unevenness > 0.2) continue;
    if (best && best.strokes.length >= strokes.length) continue;
    best = {
      kind: "agitation",
      strokes,
      periodSeconds: rhythm.period,
      unevenness: rhythm.unevenness,
      contrastDb,
      separation: levels.separation,
      drumRate: isDrumRate(context, 1 / rhythm.period),
    };
  }
  return best;
}

function cycles(context: ListeningContext, track: LoudnessTrack): StrokePattern | null {
  const slow = smoothTrack(track, Math.round(0.15 * TRACK_RATE_HZ));
  const levels = twoLevels(slow.levelDb.filter((_, i) => slow.excluded[i] === 0));
  if (!levels || levels.high - levels.low < 3 || levels.separation < 3.6) return null;
  const strokes = stretches(slow, levels, 1.5, true);
  if (strokes.length < 2) return null;
  const rhythm = rhythmOf(strokes, 60);
  return {
    kind: "cycles",
    strokes,
    periodSeconds: rhythm?.period ?? strokes[1]!.startSeconds - strokes[0]!.startSeconds,
    unevenness: rhythm?.unevenness ?? 1,
    contrastDb: levels.high - levels.low,
    separation: levels.separation,
    drumRate: isDrumRate(context, 1 / (rhythm?.period ?? 60)),
  };
}

const known = new WeakMap<ListeningContext, { readonly pattern: StrokePattern | null }>();

/**
 * Finds the on and off of the drive in the clip's loudness: strokes of an agitator (0.2-2.5 s apart)
 * or the longer cycles of a tumbling drum or pulsed motor. Null when the sound does not stand on two
 * levels in turn, which a smooth modulation by the drum's turning does not either.
 */
export function findStrokes(context: ListeningContext): StrokePattern | null {
  const found = known.get(context);
  if (found) return found.pattern;
  const track = loudnessTrack(context);
  const pattern =
    track.levelDb.length < 4 * TRACK_RATE_HZ
      ? null
      : (agitation(context, track) ?? cycles(context, track));
  known.set(context, { pattern });
  return pattern;
}
