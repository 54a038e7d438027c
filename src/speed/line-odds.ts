import type { LineSpectrum } from "./line-spectrum.js";

const CAP = 7;
const LOWEST = -3;
const STEP = 0.05;
const ENTRIES = Math.round((CAP - LOWEST) / STEP) + 1;

/**
 * ln of how much likelier a height (in deviations) is under "a line is there" than under "none is":
 * normal null; a line may be of any height up to about 10 deviations.
 */
function heightOdds(z: number): number {
  return z > 0 ? (z * z) / 2 - 1.6 : -2.5;
}

/**
 * What a line at an expected place adds to the belief in a hypothesis, against finding it there by
 * chance: ln((1-p) + p G) - ln((1-q) + q G). A missing line costs ln(1-p); however strong a line is, it
 * adds at most ln(p / q), so that no single tone decides.
 *
 * @param expected p, how often such a line is heard when the hypothesis is true
 * @param stray q, how often some other line stands at any place
 * @returns values over heights from -3 to 7 deviations, read by `tableOdds`
 */
export function oddsTable(expected: number, stray: number): Float64Array {
  return Float64Array.from({ length: ENTRIES }, (_, i) => {
    const g = Math.exp(heightOdds(LOWEST + i * STEP));
    return Math.log((1 - expected + expected * g) / (1 - stray + stray * g));
  });
}

/** Odds of a line from its height; 0 for a place outside the spectrum (NaN). */
export function tableOdds(table: Float64Array, z: number): number {
  if (z !== z) return 0;
  const i = Math.round((z - LOWEST) / STEP);
  return table[i < 0 ? 0 : i >= ENTRIES ? ENTRIES - 1 : i]!;
}

/** Height at a frequency, between bins by linear interpolation; NaN outside the spectrum. */
export function heightAt(spectrum: LineSpectrum, hz: number): number {
  const position = hz / spectrum.binHz;
  const k = Math.floor(position);
  if (k < 0 || k + 1 >= spectrum.z.length) return NaN;
  return spectrum.z[k]! + (position - k) * (spectrum.z[k + 1]! - spectrum.z[k]!);
}
