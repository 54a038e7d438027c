import { clamp } from "../foundation/statistics.js";
import type { FineSigns } from "./change-model.js";
import { CHANGE_MODEL } from "./change-model.data.js";
import { fineChange } from "./fine-bands.js";
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
  /** What they would be if the machine came back in order: how clearly the fault is heard before. */
  readonly reach: number;
  /** How far the sound after is from any machine in order, in the spreads of such machines. */
  readonly unusual: number;
  /** The same of the sound before. */
  readonly unusualBefore: number;
  /** How far the two lie apart: 1 (RMS) for one sound by two phones. */
  readonly apart: number;
}

/** Name of the figure that holds the spectra's fine peaks against each other. */
export const FINE_PEAKS = "fine-peaks";

/** No figure lies further off than this, in spreads. */
const FARTHEST = 8;
/** Beyond this a sound is strange, and how strange says nothing about the fault. */
const MOST_UNUSUAL = 7;
const { figures: FIGURES, directions: DIRECTIONS, signs: SIGNS, bias: BIAS } = CHANGE_MODEL;
const { evenFine: EVEN_FINE, curedFine: CURED_FINE } = CHANGE_MODEL;
const WEIGHTS = DIRECTIONS.map(({ weights }) => Float64Array.from(weights));

// A figure that either recording lacks says nothing: both are taken as usual.
function standardised(before: Summary, after: Summary): readonly [Float64Array, Float64Array] {
  const was = new Float64Array(FIGURES.length);
  const is = new Float64Array(FIGURES.length);
  FIGURES.forEach(({ name, usual, spread }, j) => {
    const b = before.get(name);
    const a = after.get(name);
    if (b === undefined || a === undefined) return;
    was[j] = clamp((b - usual) / spread, -FARTHEST, FARTHEST);
    is[j] = clamp((a - usual) / spread, -FARTHEST, FARTHEST);
  });
  return [was, is];
}

const dot = (a: Float64Array, b: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
};
const length = (a: Float64Array): number => Math.sqrt(dot(a, a));
const along = (standard: Float64Array): Float64Array =>
  Float64Array.from(WEIGHTS, (weights) => dot(weights, standard));

interface Parts {
  /** Unit vector from where the repaired machine would lie to where it lay: the fault's own direction. */
  readonly towards: Float64Array;
  /** How far it lay that way. */
  readonly excess: number;
  /** After less where the repaired machine would lie, by direction. */
  readonly rest: Float64Array;
  /** The same in the spreads of machines in order. */
  readonly scaled: Float64Array;
  /** Before less where the repaired machine would lie, in the same spreads. */
  readonly scaledBefore: Float64Array;
  /** Distance of after from before, RMS over directions. */
  readonly apart: number;
}

function partsOf(was: Float64Array, is: Float64Array): Parts {
  const b = along(was);
  const a = along(is);
  const goal = b.map((v, i) => DIRECTIONS[i]!.offset + DIRECTIONS[i]!.slope * v);
  const fault = b.map((v, i) => v - goal[i]!);
  const excess = length(fault);
  const rest = a.map((v, i) => v - goal[i]!);
  return {
    towards: fault.map((v) => v / Math.max(excess, 1e-9)),
    excess,
    rest,
    scaled: rest.map((v, i) => v / DIRECTIONS[i]!.spread),
    scaledBefore: fault.map((v, i) => v / DIRECTIONS[i]!.spread),
    apart: length(a.map((v, i) => v - b[i]!)) / Math.sqrt(a.length),
  };
}

const fineNats = ({ likeness, difference }: FineSigns): number =>
  SIGNS.likeness * likeness + SIGNS.difference * difference;

interface Along {
  readonly left: number;
  readonly gone: number;
  readonly unusual: number;
}

const natsOf = ({ left, gone, unusual }: Along, fine: FineSigns): number =>
  BIAS +
  SIGNS.left * left +
  SIGNS.gone * gone +
  SIGNS.unusual * Math.min(unusual, MOST_UNUSUAL) +
  fineNats(fine);

/**
 * Log-odds that the fault of `before` is gone in `after`, from two kinds of evidence.
 *
 * How the sound moves: a matched filter. Directions are weighted sums of figures in which two recordings of
 * one sound differ by 1 (RMS), so that what other phones and places change counts little. What before has
 * beyond a machine in order is the fault, and gives its direction; along it, `left` is still there after and
 * `gone` is not. What after has in other directions tells how far chance alone carries this pair.
 *
 * What it is coloured by: whether the narrow peaks of the spectrum are still the same (`fineChange`). This
 * tells that a sound is another, not which of the two is the better one.
 *
 * bias + Σ signs; the distance from machines in order counts up to 7.
 */
export function weighChange(before: Summary, after: Summary): WeighedChange {
  const parts = partsOf(...standardised(before, after));
  const { towards, excess, rest, scaled, scaledBefore, apart } = parts;
  const left = dot(rest, towards);
  const unusual = length(scaled);
  const fine = fineChange(before, after) ?? EVEN_FINE;
  const usual = Math.sqrt(DIRECTIONS.length);
  return {
    nats: natsOf({ left, gone: excess - left, unusual }, fine),
    reach: natsOf({ left: 0, gone: excess, unusual: usual }, CURED_FINE),
    unusual,
    unusualBefore: length(scaledBefore),
    apart,
  };
}

/** What the fine peaks of both spectra add, against peaks that speak neither way; null when too narrow. */
export function finePeaksChange(before: Summary, after: Summary): FigureChange | null {
  const fine = fineChange(before, after);
  if (fine === null) return null;
  const nats = fineNats(fine) - fineNats(EVEN_FINE);
  return { figure: FINE_PEAKS, before: 1, after: fine.correlation, nats };
}

/** What each figure adds to the log-odds: each sign is linear in the figures once its direction is known. */
export function figureChanges(before: Summary, after: Summary): FigureChange[] {
  const [was, is] = standardised(before, after);
  const { towards, scaled } = partsOf(was, is);
  const distance = Math.max(length(scaled), 1e-9);
  const strange = distance > MOST_UNUSUAL ? 0 : SIGNS.unusual / distance;
  const onAfter = DIRECTIONS.map(
    ({ spread }, i) => (SIGNS.left - SIGNS.gone) * towards[i]! + (strange * scaled[i]!) / spread,
  );
  const onBefore = DIRECTIONS.map(
    ({ slope }, i) => SIGNS.gone * (1 - slope) * towards[i]! - slope * onAfter[i]!,
  );
  return FIGURES.flatMap(({ name }, j) => {
    const b = before.get(name);
    const a = after.get(name);
    if (b === undefined || a === undefined) return [];
    let nats = 0;
    WEIGHTS.forEach((weights, i) => {
      nats += weights[j]! * (onAfter[i]! * is[j]! + onBefore[i]! * was[j]!);
    });
    return [{ figure: name, before: b, after: a, nats }];
  });
}
