import {
  combCurve,
  nullSums,
  windowMaximum,
  type EvidenceAxis,
  type Harmonics,
} from "./comb-test.js";
import { RACE_OFFSETS } from "../../machine/bearing-families.js";

/** Place of a shaft's first order, read from its own harmonics. */
export interface ShaftPlace {
  readonly place: number;
  /** Relative error of the place. */
  readonly error: number;
  /** The harmonics stood out, so that the place is measured and not just taken over. */
  readonly measured: boolean;
}

const SHAFT_HARMONICS = 6;
const CONVINCING_P = 0.003;
const WHOLE = Array.from({ length: SHAFT_HARMONICS }, (_, k) => k + 1);
/** What the races' comb must have more than the whole multiples', which need fewer lines. */
const CLEARLY_MORE = 1.25;

/** Places n - offset and n + offset beside the whole multiples, rising. */
export const besides = (offset: number): number[] =>
  WHOLE.flatMap((multiple) => [multiple - offset, multiple + offset]);

/** Bins near simple fractions of a place, where a decoy would meet the shaft's own harmonics. */
function nearFractions(axis: EvidenceAxis, place: number): Uint8Array {
  const out = new Uint8Array(axis.evidence.length);
  for (let top = 1; top <= SHAFT_HARMONICS; top++) {
    for (let bottom = 1; bottom <= SHAFT_HARMONICS; bottom++) {
      const at = (place * top) / bottom;
      const low = Math.floor((at * 0.98) / axis.bin);
      if (low < out.length) out.fill(1, low, Math.ceil((at * 1.02) / axis.bin) + 1);
    }
  }
  return out;
}

interface ExpectedPlace {
  readonly place: number;
  readonly error: number;
}

export interface FoundComb {
  readonly value: number;
  readonly at: number;
  readonly error: number;
  readonly p: number;
}

const convincing = (found: FoundComb | null): FoundComb | null =>
  found !== null && found.p <= CONVINCING_P ? found : null;

const asPlace = ({ at, error }: FoundComb): ShaftPlace => ({ place: at, error, measured: true });

/** Largest sum of a comb near a place, with its p-value; null where there is too little to compare with. */
export function findComb(
  axis: EvidenceAxis,
  place: number,
  search: number,
  all: readonly number[],
): FoundComb | null {
  const top = (axis.evidence.length - 1) * axis.bin;
  const multiples = all.filter((multiple) => multiple * place <= top);
  if (multiples.length < 1) return null;
  const highest = multiples[multiples.length - 1]!;
  const harmonics: Harmonics = { multiples, weights: multiples.map(() => 1) };
  const curve = combCurve(axis, harmonics);
  const found = windowMaximum(curve, place, place * search);
  const range = {
    low: place / 2.2,
    high: Math.min(place * 2.2, top / highest),
    forbidden: nearFractions(axis, place),
  };
  const background = nullSums(axis, curve, place * search, range);
  if (background === null) return null;
  const step = axis.resolution / (4 * highest * place);
  return { ...found, error: Math.max(2e-4, step), p: background.pValue(found.value) };
}

/**
 * Looks for a shaft's harmonics near where the speed estimate puts them and corrects the place.
 *
 * The correction is taken only when the harmonics stand out from the same search elsewhere (p < 0.003);
 * otherwise the expected place and its error are handed back.
 */
export function calibrateShaft(
  axis: EvidenceAxis,
  expected: ExpectedPlace,
  search: number,
): ShaftPlace {
  const found = convincing(findComb(axis, expected.place, search, WHOLE));
  return found === null ? { ...expected, measured: false } : asPlace(found);
}

/**
 * As `calibrateShaft`, but a worn bearing's tones may be all there is of the motor: they stand a fixed share
 * beside its multiples, on both sides, and would pull a comb of whole multiples off its place.
 */
export function calibrateMotor(
  axis: EvidenceAxis,
  expected: ExpectedPlace,
  search: number,
): ShaftPlace {
  const whole = convincing(findComb(axis, expected.place, search, WHOLE));
  const races = RACE_OFFSETS.map((offset) =>
    convincing(findComb(axis, expected.place, search, besides(offset))),
  );
  const best = [whole, ...races].reduce((top, one) =>
    (one?.value ?? 0) > CLEARLY_MORE * (top?.value ?? 0) ? one : top,
  );
  return best === null ? { ...expected, measured: false } : asPlace(best);
}
