import { bearingMultiples, type BearingGeometry } from "./bearing-rates.js";
import { BEARINGS, type BallSet } from "./bearings.data.js";
import type { Window } from "./windows.js";

/** Bearings that sound alike: as many balls, hence nearly the same multiples of the shaft. */
export interface BearingFamily {
  readonly balls: number;
  readonly outer: Window;
  readonly inner: Window;
  readonly ballStrikes: Window;
  readonly cage: Window;
}

/** Slip of 1-2 % and makes that differ by 1.5 %. */
const FAMILY_TOLERANCE = 0.03;
/** For the bearing named by the user: slip, and thrust that tilts the contact line. */
const KNOWN_TOLERANCE = 0.02;

export const geometryOf = (row: BallSet): BearingGeometry => ({
  balls: row.balls,
  ball: row.ballMm,
  pitch: row.pitchMm,
  contactDeg: row.contactDeg ?? 0,
});

/** Row of a designation: the washer's own rows first, then the built-in table; undefined if neither. */
export const findBearing = (
  designation: string,
  ownBearings: readonly BallSet[] = [],
): BallSet | undefined =>
  [...ownBearings, ...BEARINGS].find((row) => row.designation === designation);

function windowOver(values: readonly number[], tolerance: number): Window {
  const low = Math.min(...values);
  const high = Math.max(...values);
  const multiple = (low + high) / 2;
  return { multiple, tolerance: Math.max(tolerance, (high - low) / (high + low) + tolerance / 2) };
}

/**
 * Groups bearings by ball count, the only thing that sound can tell about them.
 *
 * Each rate gets one window over the group's members: half-width 3 % (slip, and makes that differ),
 * or 2 % when the bearings are `known` to be the machine's own. Order: first met first.
 */
export function bearingFamilies(rows: readonly BallSet[], known = false): BearingFamily[] {
  const tolerance = known ? KNOWN_TOLERANCE : FAMILY_TOLERANCE;
  const byBalls = new Map<number, BallSet[]>();
  for (const row of rows) byBalls.set(row.balls, [...(byBalls.get(row.balls) ?? []), row]);
  return [...byBalls].map(([balls, members]) => {
    const rates = members.map((row) => bearingMultiples(geometryOf(row)));
    const over = (pick: (rate: (typeof rates)[number]) => number): Window =>
      windowOver(rates.map(pick), tolerance);
    return {
      balls,
      outer: over((rate) => rate.outer),
      inner: over((rate) => rate.inner),
      ballStrikes: over((rate) => rate.ballStrikes),
      cage: over((rate) => rate.cage),
    };
  });
}
