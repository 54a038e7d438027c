import {
  combCurve,
  nullSums,
  windowMaximum,
  type EvidenceAxis,
  type Harmonics,
} from "./comb-test.js";

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

/**
 * Looks for a shaft's harmonics near where the speed estimate puts them and corrects the place.
 *
 * The correction is taken only when the harmonics stand out from the same search elsewhere (p < 0.003);
 * otherwise the expected place and its error are handed back.
 */
export function calibrateShaft(
  axis: EvidenceAxis,
  expected: { readonly place: number; readonly error: number },
  search: number,
): ShaftPlace {
  const { place, error } = expected;
  const asGiven = { place, error, measured: false };
  const top = (axis.evidence.length - 1) * axis.bin;
  const count = Math.min(SHAFT_HARMONICS, Math.floor(top / place));
  if (count < 1) return asGiven;
  const multiples = Array.from({ length: count }, (_, k) => k + 1);
  const harmonics: Harmonics = { multiples, weights: multiples.map(() => 1) };
  const curve = combCurve(axis, harmonics);
  const found = windowMaximum(curve, place, place * search);
  const range = {
    low: place / 2.2,
    high: Math.min(place * 2.2, top / count),
    forbidden: nearFractions(axis, place),
  };
  const background = nullSums(axis, curve, place * search, range);
  if (background === null || background.pValue(found.value) > CONVINCING_P) return asGiven;
  const step = axis.resolution / (4 * count * place);
  return { place: found.at, error: Math.max(2e-4, step), measured: true };
}
