import type { Hertz } from "../foundation/units.js";

/** What the rates of a bearing depend on; lengths in any one unit. */
export interface BearingGeometry {
  readonly balls: number;
  readonly ball: number;
  readonly pitch: number;
  /** Contact angle in degrees; 0 for a radial load, 10-25 under thrust. Default 0. */
  readonly contactDeg?: number;
}

/** The rates at which a damaged part of a bearing is struck, in Hz or per turn of the inner ring. */
export interface BearingRates {
  /** Ball passes over one point of the outer race. */
  readonly outer: number;
  /** Ball passes over one point of the inner race. */
  readonly inner: number;
  /** Turns of a ball about its own axis. A spot on a ball strikes twice as often: `ballStrikes`. */
  readonly ballSpin: number;
  /** Strikes of one spot of a ball, once on each race: 2 x `ballSpin`. */
  readonly ballStrikes: number;
  /** Turns of the cage. */
  readonly cage: number;
}

const lever = (geometry: BearingGeometry): number =>
  (geometry.ball / geometry.pitch) * Math.cos(((geometry.contactDeg ?? 0) * Math.PI) / 180);

/**
 * Rates of a rolling bearing whose rings turn at `innerHz` and `outerHz` (signed, Hz).
 *
 * With g = (d / D) cos a: outer = Z/2 |fi - fo| (1 - g), inner = Z/2 |fi - fo| (1 + g),
 * ball spin = D / 2d |fi - fo| (1 - g^2), cage = 1/2 |fi (1 - g) + fo (1 + g)|.
 * Kinematic values: real bearings slip 1-2 % below them. Source: Harris and Kotzalas, Rolling
 * Bearing Analysis; Randall, Vibration-based Condition Monitoring.
 */
export function bearingRates(
  geometry: BearingGeometry,
  innerHz: Hertz,
  outerHz: Hertz = 0,
): BearingRates {
  const g = lever(geometry);
  const relative = Math.abs(innerHz - outerHz);
  const ballSpin = (geometry.pitch / (2 * geometry.ball)) * relative * (1 - g * g);
  return {
    outer: (geometry.balls / 2) * relative * (1 - g),
    inner: (geometry.balls / 2) * relative * (1 + g),
    ballSpin,
    ballStrikes: 2 * ballSpin,
    cage: Math.abs(innerHz * (1 - g) + outerHz * (1 + g)) / 2,
  };
}

/** Rates per turn of the inner ring with the outer ring held: the multiples printed in tables. */
export const bearingMultiples = (geometry: BearingGeometry): BearingRates =>
  bearingRates(geometry, 1);
