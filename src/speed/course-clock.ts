import type { TurnClock } from "../signal/angular.js";
import { FRAME_SECONDS } from "./frame-times.js";

const CLOCK_HZ = 200;

/** Straightened time as a clock; course: ln of relative speed at the frame middles. */
export function courseClock(course: Float64Array, seconds: number): TurnClock {
  const count = Math.floor(seconds * CLOCK_HZ) + 1;
  const turns = new Float64Array(count);
  const last = course.length - 1;
  let before = Math.exp(course[0]!);
  for (let i = 1; i < count; i++) {
    const position = Math.min(last, Math.max(0, i / CLOCK_HZ / FRAME_SECONDS - 0.5));
    const k = Math.min(Math.max(0, last - 1), Math.floor(position));
    const a = course[k]!;
    const b = course[Math.min(last, k + 1)]!;
    const now = Math.exp(a + (position - k) * (b - a));
    turns[i] = turns[i - 1]! + (before + now) / (2 * CLOCK_HZ);
    before = now;
  }
  return { turns, sampleRateHz: CLOCK_HZ };
}

/** True times at which the clock reads values, which must rise. */
export function clockTimes(clock: TurnClock, values: readonly number[]): number[] {
  let i = 0;
  return values.map((value) => {
    while (i < clock.turns.length - 2 && clock.turns[i + 1]! < value) i++;
    const step = clock.turns[i + 1]! - clock.turns[i]!;
    return (i + (step > 0 ? (value - clock.turns[i]!) / step : 0)) / clock.sampleRateHz;
  });
}

/** Share of the frames between two times that may be used. */
export function usableShare(usable: Uint8Array, fromSeconds: number, toSeconds: number): number {
  const from = Math.max(0, Math.floor(fromSeconds / FRAME_SECONDS));
  const to = Math.min(usable.length, Math.ceil(toSeconds / FRAME_SECONDS));
  let good = 0;
  for (let i = from; i < to; i++) good += usable[i]!;
  return to > from ? good / (to - from) : 0;
}
