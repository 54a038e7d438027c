import type { BearingGeometry } from "./bearing-rates.js";

/** Multiples of the shaft as a maker's table prints them. */
export interface PrintedMultiples {
  readonly outer: number;
  readonly inner: number;
  readonly cage?: number;
}

const WHOLE_WITHIN = 0.01;
const CAGE_WITHIN = 0.02;

/**
 * The geometry (up to scale) behind a maker's printed multiples, or null when they contradict
 * themselves.
 *
 * outer + inner is the number of balls, (inner - outer) / (outer + inner) is (d / D) cos a, and the
 * cage turns outer / balls times. A ball's own rate is not read: tables print it or its double.
 */
export function bearingFromMultiples(printed: PrintedMultiples): BearingGeometry | null {
  const { outer, inner, cage } = printed;
  const balls = Math.round(outer + inner);
  if (Math.abs(outer + inner - balls) > WHOLE_WITHIN || inner <= outer) return null;
  if (cage !== undefined && Math.abs(cage / (outer / balls) - 1) > CAGE_WITHIN) return null;
  return { balls, ball: (inner - outer) / (inner + outer), pitch: 1 };
}
