import type { ImpactEvent } from "../evidence.js";
import { median } from "../../foundation/statistics.js";

const BIGGEST_RISE_SPREAD_DB = 7;

/**
 * The clicks that sound like the typical one: the same mechanism makes nearly the same click each time,
 * within an octave in pitch and 7 dB in height. Order is kept.
 */
export function clicksAlike(clicks: readonly ImpactEvent[]): ImpactEvent[] {
  if (clicks.length < 3) return [...clicks];
  const centre = median(clicks.map((click) => click.centreHz));
  const rise = median(clicks.map((click) => click.riseDb));
  return clicks.filter(
    (click) =>
      Math.abs(Math.log2(click.centreHz / centre)) < 1 &&
      Math.abs(click.riseDb - rise) < BIGGEST_RISE_SPREAD_DB,
  );
}
