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

// Marks fixed to the shaft: each is passed at the same angle whichever way it turns.
function passFixedMarks(turns: Float64Array, perTurn: number, offset: number): number[] {
  const positions: number[] = [];
  let before = perTurn * turns[0]! + offset;
  for (let i = 1; i < turns.length; i++) {
    const now = perTurn * turns[i]! + offset;
    const first = Math.floor(Math.min(before, now)) + 1;
    for (let mark = first; mark <= Math.max(before, now); mark++) {
      positions.push(i - 1 + (mark - before) / (now - before));
    }
    before = now;
  }
  return positions;
}

// Marks that creep: each interval deviates, and deviations add up.
function passCreepingMarks(
  turns: Float64Array,
  perTurn: number,
  slip: number,
  random: Random,
): number[] {
  const positions: number[] = [];
  let travel = 0;
  let next = random.uniform();
  for (let i = 1; i < turns.length; i++) {
    const step = Math.abs(turns[i]! - turns[i - 1]!) * perTurn;
    if (step === 0) continue;
    while (travel + step >= next) {
      positions.push(i - 1 + Math.max(0, next - travel) / step);
      next += Math.max(0.05, 1 + slip * random.normal());
    }
    travel += step;
  }
  return positions;
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
  const all =
    slip > 0
      ? passCreepingMarks(turns, perTurn, slip, random)
      : passFixedMarks(turns, perTurn, random.uniform());
  const kept = misses > 0 ? all.filter(() => !random.chance(misses)) : all;
  return Float64Array.from(kept);
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
