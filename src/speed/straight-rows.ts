import type { TurnClock } from "../signal/angular.js";
import { cubicAt } from "../signal/resample.js";
import { clockTimes } from "./course-clock.js";

/**
 * Rows of one rate resampled from even time to even straightened time at the same rate; the places are
 * worked out once for all rows. Shape [rows][floor(clock's span * rateHz)].
 */
export function straightRows(
  rows: readonly Float64Array[],
  rateHz: number,
  clock: TurnClock,
): Float64Array[] {
  const first = clock.turns[0] ?? 0;
  const count = Math.max(0, Math.floor(((clock.turns.at(-1) ?? 0) - first) * rateHz));
  const wanted = Array.from({ length: count }, (_, m) => first + m / rateHz);
  const places = Float64Array.from(clockTimes(clock, wanted), (seconds) => seconds * rateHz);
  return rows.map((row) => places.map((place) => cubicAt(row, place)));
}
