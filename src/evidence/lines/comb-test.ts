import { quantile } from "../../foundation/statistics.js";

/** Bins of evidence along an axis of orders or hertz. */
export interface EvidenceAxis {
  /** Shape [bins], near 0 in smooth noise, 0 where nothing may be counted. */
  readonly evidence: Float64Array;
  readonly bin: number;
  /** Distance at which two lines can be told apart, on the axis. */
  readonly resolution: number;
}

/** Which multiples of a place count, rising, and how much. */
export interface Harmonics {
  readonly multiples: readonly number[];
  readonly weights: readonly number[];
}

/** A family of lines to look for: harmonics of a place that is known to within a window. */
export interface Comb {
  readonly centre: number;
  readonly halfWidth: number;
  readonly harmonics: Harmonics;
}

export interface CombResult {
  /** Largest weighted sum over the window. */
  readonly value: number;
  /** Place of that maximum on the axis. */
  readonly at: number;
}

/** Weighted sums at every place of an axis: value i belongs to place i * step. */
export interface CombCurve {
  readonly values: Float64Array;
  readonly step: number;
}

/** Harmonics of a train of impacts, the later ones trusted less. */
export const IMPACT_HARMONICS: Harmonics = { multiples: [1, 2, 3], weights: [1, 0.8, 0.6] };

/** The first of the harmonics, as many as fit under the top of an axis (at least one). */
export function fittingHarmonics(harmonics: Harmonics, centre: number, top: number): Harmonics {
  const count = Math.max(1, harmonics.multiples.filter((h) => h * centre <= top).length);
  return {
    multiples: harmonics.multiples.slice(0, count),
    weights: harmonics.weights.slice(0, count),
  };
}

// No single line may decide alone, however loud: the strongest counts at most this much more than the
// next.
const LARGEST_LEAD = 15;

/**
 * S(place) = Σ_h w_h evidence(h · place) at every place whose highest harmonic lies on the axis, in steps
 * of one bin of that harmonic; the strongest harmonic is cut to 15 above the second strongest.
 */
export function combCurve(axis: EvidenceAxis, harmonics: Harmonics): CombCurve {
  const { evidence, bin } = axis;
  const { multiples, weights } = harmonics;
  const top = multiples[multiples.length - 1]!;
  const values = new Float64Array(evidence.length);
  for (let j = 0; j < values.length; j++) {
    let sum = 0;
    let first = 0;
    let second = 0;
    for (let h = 0; h < multiples.length; h++) {
      const line = weights[h]! * evidence[Math.round((j * multiples[h]!) / top)]!;
      sum += line;
      if (line > first) {
        second = first;
        first = line;
      } else if (line > second) second = line;
    }
    const lead = first - second - LARGEST_LEAD;
    values[j] = lead > 0 ? sum - lead : sum;
  }
  return { values, step: bin / top };
}

/** T = largest sum within the window, and where it lies. */
export function windowMaximum(
  { values, step }: CombCurve,
  centre: number,
  halfWidth: number,
): CombResult {
  const middle = Math.round(centre / step);
  const low = Math.max(1, Math.min(middle, Math.ceil((centre - halfWidth) / step)));
  const high = Math.min(
    values.length - 1,
    Math.max(middle, Math.floor((centre + halfWidth) / step)),
  );
  let value = 0;
  let at = middle;
  for (let j = low; j <= high; j++) {
    if (values[j]! > value) {
      value = values[j]!;
      at = j;
    }
  }
  return { value, at: at * step };
}

/** Where decoys are drawn from. */
export interface DecoyRange {
  readonly low: number;
  readonly high: number;
  /** Shape [bins of the axis]: 1 where a decoy must not lie. */
  readonly forbidden: Uint8Array;
}

/** How a comb's sums are distributed where nothing is expected. */
export interface NullSums {
  /** p-value of the largest sum in a window. */
  readonly pValue: (value: number) => number;
  /** Decoy places, for further tests against the same background. */
  readonly places: readonly number[];
}

const DECOYS = 300;
const GOLDEN = 0.6180339887498949;
// The tail is continued as an exponential above this quantile of single sums.
const TAIL_FROM = 0.97;
// With fewer independent places than this nothing can be said about a tail.
const FEWEST_PLACES = 100;

/** Up to 300 places, log-uniform (multiples of the golden ratio), off forbidden bins. */
function decoyPlaces(range: DecoyRange, bin: number): number[] {
  const places: number[] = [];
  const span = Math.log(range.high / range.low);
  for (let i = 1; i <= 6 * DECOYS && places.length < DECOYS; i++) {
    const place = range.low * Math.exp(span * ((i * GOLDEN) % 1));
    if (range.forbidden[Math.round(place / bin)] !== 1) places.push(place);
  }
  return places;
}

/**
 * Sums at allowed places, as dense at the low end of the range as there are bins and thinner above in
 * proportion, so that each octave weighs alike: fluctuations of level, common to all bands, reach
 * further up in some clips than in others.
 */
function allowedSums(
  axis: EvidenceAxis,
  { values, step }: CombCurve,
  range: DecoyRange,
): { allowed: number[]; spacing: number } {
  const allowed: number[] = [];
  const first = Math.max(1, Math.ceil(range.low / step));
  const last = Math.min(values.length - 1, Math.floor(range.high / step));
  let seen = 0;
  for (let j = first; j <= last; j += Math.max(1, Math.round(j / first / 2))) {
    seen++;
    if (range.forbidden[Math.round((j * step) / axis.bin)] !== 1) allowed.push(values[j]!);
  }
  return { allowed, spacing: Math.max(1, (last - first + 1) / Math.max(1, seen)) };
}

/** Ranks of single sums, and the mean excess of the tail above a quantile. */
interface Sums {
  readonly sorted: Float64Array;
  readonly tailStart: number;
  readonly tailCount: number;
  readonly meanExcess: number;
}

function describeSums(values: Float64Array): Sums {
  const sorted = values.slice().sort();
  const tailStart = quantile(sorted, TAIL_FROM);
  let first = sorted.length;
  while (first > 0 && sorted[first - 1]! > tailStart) first--;
  const above = sorted.subarray(first);
  const excess = above.reduce((sum, v) => sum + v - tailStart, 0);
  const tailCount = Math.max(1, above.length);
  return { sorted, tailStart, tailCount, meanExcess: excess / tailCount };
}

/**
 * Chance that one sum reaches a value: ranks below the tail; in the tail an exponential whose scale is
 * known from `independent` excesses only, which makes it (1 + x / (m scale))^-m.
 */
function survival(sums: Sums, value: number, independent: number): number {
  const { sorted, tailStart, tailCount, meanExcess } = sums;
  const share = tailCount / sorted.length;
  if (value > tailStart) {
    if (meanExcess <= 0) return 0;
    return share * (1 + (value - tailStart) / (independent * meanExcess)) ** -independent;
  }
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (sorted[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return Math.max(share, (sorted.length - low) / sorted.length);
}

/**
 * Distribution of a window's largest sum under the clip's own background.
 *
 * Wide windows leave only a few dozen independent decoy windows, too few for a tail. So the survival
 * function p1 of single sums is taken from all allowed places of the range (ranks, above their 97 %
 * quantile an exponential of estimated scale), and decoy windows of the same width only say how many
 * independent places n a window amounts to: with F = 1 - p1 the maximum has F^n, and the most likely n
 * is -N / Σ ln F(T_i).
 * Returns null when the range holds too few places.
 */
export function nullSums(
  axis: EvidenceAxis,
  curve: CombCurve,
  halfWidth: number,
  range: DecoyRange,
): NullSums | null {
  const places = decoyPlaces(range, axis.bin);
  const { allowed, spacing } = allowedSums(axis, curve, range);
  const perPlace = Math.max(1, axis.resolution / axis.bin / 2 / spacing);
  if (allowed.length / perPlace < FEWEST_PLACES || places.length < 20) return null;
  const sums = describeSums(Float64Array.from(allowed));
  let logs = 0;
  for (const place of places) {
    const { value } = windowMaximum(curve, place, halfWidth);
    logs -= Math.log(1 - Math.min(1 - 1e-9, Math.max(1e-12, survival(sums, value, 1e9))));
  }
  const positions = Math.max(1, (2 * halfWidth) / curve.step);
  const count = Math.min(positions, Math.max(1, places.length / logs));
  const independent = Math.max(3, sums.tailCount * Math.min(1, (count * spacing) / positions));
  return {
    places,
    pValue: (value) => {
      const single = survival(sums, value, independent);
      const p = single > 1e-6 ? 1 - (1 - single) ** count : single * count;
      return Math.min(1, Math.max(1e-12, p));
    },
  };
}
