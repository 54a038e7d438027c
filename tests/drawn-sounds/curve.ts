import type { Dice } from "./dice.js";

/** Drawn courses over time: one value every 5 ms, read in between by straight lines. */
export type Curve = Float64Array;
export const CURVE_HZ = 200;

export function curve(seconds: number, at: (timeSeconds: number) => number): Curve {
  return Float64Array.from({ length: Math.ceil(seconds * CURVE_HZ) + 2 }, (_, k) =>
    at(k / CURVE_HZ),
  );
}

/** Through drawn knots [seconds, value]; before the first and after the last it stays. */
export function through(seconds: number, knots: readonly (readonly [number, number])[]): Curve {
  let k = 0;
  return curve(seconds, (time) => {
    while (k < knots.length - 1 && knots[k + 1]![0] <= time) k++;
    const [t0, v0] = knots[k]!;
    const [t1, v1] = knots[Math.min(k + 1, knots.length - 1)]!;
    if (time <= t0 || t1 <= t0) return v0;
    return v0 + ((v1 - v0) * Math.min(time - t0, t1 - t0)) / (t1 - t0);
  });
}

/** 1 inside the spans [start, end], 0 outside, with ramps of the given length. */
export function during(
  seconds: number,
  spans: readonly (readonly [number, number])[],
  rampSeconds = 0.03,
): Curve {
  return curve(seconds, (time) => {
    let most = 0;
    for (const [start, end] of spans) {
      const inside = Math.min(time - start, end - time) / rampSeconds + 0.5;
      most = Math.max(most, Math.min(1, inside));
    }
    return Math.max(0, most);
  });
}

/** Wanders about 0 with spread 1 and forgets itself over `memorySeconds`. */
export function wander(seconds: number, memorySeconds: number, dice: Dice): Curve {
  const keep = Math.exp(-1 / (memorySeconds * CURVE_HZ));
  const kick = Math.sqrt(1 - keep * keep);
  let value = dice.bell();
  return curve(seconds, () => (value = keep * value + kick * dice.bell()));
}

export function map(course: Curve, change: (value: number, index: number) => number): Curve {
  return course.map(change);
}

export function times(a: Curve, b: Curve): Curve {
  return a.map((value, k) => value * b[k]!);
}

/** Turns made since the start, of a course in Hz. */
export function turnsOf(hz: Curve): Curve {
  let sum = 0;
  return hz.map((value, k) => (sum += k === 0 ? 0 : (value + hz[k - 1]!) / 2 / CURVE_HZ));
}

export function valueAt(course: Curve, timeSeconds: number): number {
  const place = Math.min(course.length - 1.001, Math.max(0, timeSeconds * CURVE_HZ));
  const k = Math.floor(place);
  return course[k]! + (course[k + 1]! - course[k]!) * (place - k);
}

/** Moments at which a count of turns passes a whole number plus `offset`. */
export function crossings(turns: Curve, offset: number): number[] {
  const found: number[] = [];
  for (let k = 1; k < turns.length; k++) {
    const before = turns[k - 1]! - offset;
    const after = turns[k]! - offset;
    for (let whole = Math.floor(before) + 1; whole <= after; whole++) {
      found.push((k - 1 + (whole - before) / (after - before)) / CURVE_HZ);
    }
  }
  return found;
}
