import { quantile } from "../../foundation/statistics.js";
import type { ListeningContext } from "../context.js";

export interface SpeedWithin {
  /** Middle drum speed of the stretch, turns per second. */
  readonly hz: number;
  /** Half of its range over its middle, with the track's own error. */
  readonly spread: number;
}

/** Drum speed over a stretch; null when it is known in less than three quarters of the points. */
export function speedWithin(
  context: ListeningContext,
  startSeconds: number,
  endSeconds: number,
): SpeedWithin | null {
  const { track, relativeError } = context.speed;
  const inside = track.filter(
    ({ timeSeconds }) => timeSeconds >= startSeconds && timeSeconds <= endSeconds,
  );
  const known = inside.flatMap(({ drumRpm }) => (drumRpm === null ? [] : [drumRpm / 60]));
  if (known.length === 0 || known.length < 0.75 * inside.length) return null;
  const [low, middle, high] = [0, 0.5, 1].map((p) => quantile(known, p));
  return { hz: middle!, spread: (high! - low!) / (2 * middle!) + relativeError };
}
