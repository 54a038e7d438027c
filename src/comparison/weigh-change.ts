import { clamp } from "../foundation/statistics.js";
import { CHANGE_MODEL, type FamilyRow } from "./change-model.data.js";
import { aspectOf, familyOf } from "./figure-name.js";
import type { Summary } from "./summary.js";

/** What one figure says: positive that the fault is gone, negative that it is still there. */
export interface FigureChange {
  readonly figure: string;
  readonly before: number;
  readonly after: number;
  /** Its share of the sum, nats. */
  readonly nats: number;
}

export interface WeighedChange {
  /** Log-odds that the fault is gone against that it is still there, equal odds before. */
  readonly nats: number;
  readonly figures: readonly FigureChange[];
}

/** No single figure says more than this, nats. */
const FIGURE_CAP = 4;
const DEGREES_OF_FREEDOM = 4;

/** ln density of a t distribution of 4 degrees of freedom, constant left out: a few wild figures do not decide. */
function logDensity(distance: number, spread: number): number {
  const z = distance / spread;
  return (
    -Math.log(spread) - ((DEGREES_OF_FREEDOM + 1) / 2) * Math.log1p((z * z) / DEGREES_OF_FREEDOM)
  );
}

/**
 * ln of how much better "gone" explains a figure than "still there".
 *
 * Still there: after = before, to within what other phones, places and moments make of it. Gone: after
 * lies where machines in order lie, and leans on before only as far as the machine's own sounds do.
 */
function natsOf({ same, slope, offset, gone }: FamilyRow, before: number, after: number): number {
  const ratio =
    logDensity(after - (offset + slope * before), gone) - logDensity(after - before, same);
  return clamp(ratio, -FIGURE_CAP, FIGURE_CAP);
}

/**
 * Log-odds that the fault of `before` is gone in `after`, and what each figure adds.
 *
 * bias + Σ over aspects of weight · mean over the aspect's figures of their nats. Only figures that both
 * recordings carry take part; an aspect without any adds nothing.
 */
export function weighChange(before: Summary, after: Summary): WeighedChange {
  const byAspect = new Map<string, FigureChange[]>();
  for (const [figure, was] of before) {
    const is = after.get(figure);
    const family = familyOf(figure);
    const row = CHANGE_MODEL.families[family];
    if (is === undefined || !row) continue;
    const aspect = aspectOf(family);
    const list = byAspect.get(aspect) ?? [];
    byAspect.set(aspect, list);
    list.push({ figure, before: was, after: is, nats: natsOf(row, was, is) });
  }
  const figures = [...byAspect].flatMap(([aspect, list]) =>
    list.map((one) => ({
      ...one,
      nats: ((CHANGE_MODEL.weights[aspect] ?? 0) * one.nats) / list.length,
    })),
  );
  const nats = figures.reduce((sum, one) => sum + one.nats, CHANGE_MODEL.bias);
  return { nats, figures };
}
