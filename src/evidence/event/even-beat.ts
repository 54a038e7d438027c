import type { ImpactEvent } from "../evidence.js";
import { rayleighTail } from "./tails.js";

/** A rate at which events keep time. */
export interface Beat {
  readonly rateHz: number;
  /** After multiplying by the rates tried that differ. */
  readonly p: number;
  readonly count: number;
  readonly atSeconds: number;
}

const ONE_EVENT_SECONDS = 0.06;

/**
 * A blow and its answer a few hundredths of a second later are one event: counted as two, pairs would
 * look like a rhythm. Chatter of 10 a second has 0.1 s between clicks.
 */
export function firstOfEach(impacts: readonly ImpactEvent[]): ImpactEvent[] {
  const kept: ImpactEvent[] = [];
  for (const impact of impacts) {
    const last = kept[kept.length - 1];
    if (!last || impact.timeSeconds - last.timeSeconds > ONE_EVENT_SECONDS) kept.push(impact);
  }
  return kept;
}

function chanceAt(times: readonly number[], rateHz: number): number {
  let re = 0;
  let im = 0;
  for (const time of times) {
    const angle = 2 * Math.PI * rateHz * (time - times[0]!);
    re += Math.cos(angle);
    im += Math.sin(angle);
  }
  return rayleighTail(times.length, Math.hypot(re, im) / times.length);
}

const MOST_MULTIPLES = 12;

/** A clock's multiples fit its ticks as well as its own rate does: the slowest that fits is the clock's. */
function fundamental(times: readonly number[], best: { rateHz: number; p: number }, least: number) {
  for (let k = MOST_MULTIPLES; k > 1; k--) {
    const rateHz = best.rateHz / k;
    if (rateHz >= least && chanceAt(times, rateHz) < best.p ** 0.7) return rateHz;
  }
  return best.rateHz;
}

/** Rayleigh's test at every rate between two, over the times of one window. */
export function bestBeat(
  times: readonly number[],
  [lowestHz, highestHz]: readonly [number, number],
): Beat {
  const from = times[0] ?? 0;
  const span = (times[times.length - 1] ?? 0) - from;
  const step = 0.2 / Math.max(1, span);
  let best = { rateHz: lowestHz, p: 1 };
  for (let rateHz = lowestHz; rateHz <= highestHz; rateHz += step) {
    const p = chanceAt(times, rateHz);
    if (p < best.p) best = { rateHz, p };
  }
  const tried = Math.max(1, (highestHz - lowestHz) * span);
  return {
    rateHz: fundamental(times, best, lowestHz),
    p: Math.min(1, best.p * tried),
    count: times.length,
    atSeconds: from,
  };
}
