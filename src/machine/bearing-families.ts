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

/** Offsets nearer than this sound alike. */
const SAME_OFFSET = 0.025;

function raceOffsets(rows: readonly BallSet[]): number[] {
  const offsets = rows
    .map((row) => bearingMultiples(geometryOf(row)).outer)
    .map((outer) => Math.abs(outer - Math.round(outer)))
    .sort((a, b) => a - b);
  const groups: number[][] = [];
  for (const offset of offsets) {
    const last = groups[groups.length - 1];
    if (last && offset - last[0]! < SAME_OFFSET) last.push(offset);
    else groups.push([offset]);
  }
  return groups.map((group) => group.reduce((sum, one) => sum + one, 0) / group.length);
}

/**
 * How far the races' rates of the built-in bearings lie beside whole multiples of the shaft, as shares of a
 * turn, rising. Outer and inner rate add up to the number of balls, so an offset stands on both sides of the
 * multiples, and so do the sidebands one shaft turn away: the tones of a worn bearing are at n - offset and
 * n + offset.
 */
export const RACE_OFFSETS: readonly number[] = raceOffsets(BEARINGS);
