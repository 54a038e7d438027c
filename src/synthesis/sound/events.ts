import type { Random } from "../../foundation/random.js";
import { RATE_HZ } from "./rate.js";

/** When a shaft's events happen. */
export interface TurnEvents {
  /** Events per turn. */
  readonly perTurn: number;
  /** Standard deviation of each interval as a share of it; deviations add up (a random walk). */
  readonly slip?: number;
  /** Share of events left out at random. */
  readonly misses?: number;
}

/**
 * Sample positions (between samples too) at which a shaft passes its event marks, either way round.
 * Slip is cumulative, as of balls in a cage: after Antoni and Randall, J. Vib. Acoust. 125 (2003) 282.
 */
export function eventsAtTurns(
  turns: Float64Array,
  { perTurn, slip = 0, misses = 0 }: TurnEvents,
  random: Random,
): Float64Array {
  const positions: number[] = [];
  let travel = 0;
  let next = random.uniform();
  for (let i = 1; i < turns.length; i++) {
    const step = Math.abs(turns[i]! - turns[i - 1]!) * perTurn;
    if (step === 0) continue;
    while (travel + step >= next) {
      const place = i - 1 + Math.max(0, next - travel) / step;
      if (misses === 0 || !random.chance(misses)) positions.push(place);
      next += Math.max(0.05, 1 + slip * random.normal());
    }
    travel += step;
  }
  return Float64Array.from(positions);
}

/** Poisson events: sample positions at a mean rate that may change over time. */
export function poissonEvents(
  sampleCount: number,
  ratePerSecond: (seconds: number) => number,
  highestRate: number,
  random: Random,
): number[] {
  const positions: number[] = [];
  let seconds = 0;
  const end = sampleCount / RATE_HZ;
  for (;;) {
    seconds += -Math.log(1 - random.uniform()) / highestRate;
    if (seconds >= end) return positions;
    if (random.chance(ratePerSecond(seconds) / highestRate)) positions.push(seconds * RATE_HZ);
  }
}
