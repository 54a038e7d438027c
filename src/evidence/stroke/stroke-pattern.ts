import type { Seconds } from "../../foundation/units.js";
import type { ListeningContext } from "../context.js";
import { median, quantile } from "../../foundation/statistics.js";

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

export interface Rhythm {
  readonly periodSeconds: Seconds;
  readonly unevenness: number;
}

/**
 * Period and unevenness of strokes from their starts. The time over two strokes is taken, because the
 * way out and the way back may differ in length; gaps longer than `longestGap` are pauses of the
 * programme and left out. Null for fewer than three gaps.
 */
export function rhythmOf(strokes: readonly Stroke[], longestGap: Seconds): Rhythm | null {
  const pairs: number[] = [];
  const gaps: number[] = [];
  for (let i = 1; i < strokes.length; i++) {
    const gap = strokes[i]!.startSeconds - strokes[i - 1]!.startSeconds;
    if (gap <= longestGap) gaps.push(gap);
    if (i < 2) continue;
    const pair = strokes[i]!.startSeconds - strokes[i - 2]!.startSeconds;
    if (pair <= 2 * longestGap) pairs.push(pair / 2);
  }
  const used = pairs.length >= 2 ? pairs : gaps;
  if (used.length === 0) return null;
  const periodSeconds = median(used);
  const off = used.map((time) => Math.abs(time - periodSeconds) / periodSeconds);
  return { periodSeconds, unevenness: 1.4826 * median(off) + 0.5 * quantile(off, 0.75) };
}

/** Rate of the drum's turns, and of its lifters and belt, that strokes could be mistaken for. */
export function isDrumRate(context: ListeningContext, rateHz: number): boolean {
  const { drumRpm, movement } = context.speed;
  if (drumRpm === null || movement === "stop-and-go" || movement === "still") return false;
  return [0.5, 1, 2, 3].some((k) => Math.abs((k * drumRpm.value) / 60 / rateHz - 1) < 0.04);
}
