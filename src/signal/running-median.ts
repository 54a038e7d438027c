import { nthSmallest } from "../foundation/nth-smallest.js";
import type { Numbers } from "../foundation/statistics.js";

function insertionPoint(sorted: Float64Array, count: number, value: number): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (sorted[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * Median of the values within ±halfWidth places of each place; at the ends the window is cut off.
 * Shape as the input. Cost O(n log w) comparisons and O(n w) moves.
 */
export function runningMedian(values: Numbers, halfWidth: number): Float64Array {
  const n = values.length;
  const out = new Float64Array(n);
  const sorted = new Float64Array(2 * halfWidth + 2);
  let count = 0;
  const add = (value: number): void => {
    const at = insertionPoint(sorted, count, value);
    sorted.copyWithin(at + 1, at, count);
    sorted[at] = value;
    count++;
  };
  const remove = (value: number): void => {
    const at = insertionPoint(sorted, count, value);
    sorted.copyWithin(at, at + 1, count);
    count--;
  };
  for (let i = 0; i < Math.min(halfWidth, n); i++) add(values[i]!);
  for (let i = 0; i < n; i++) {
    if (i + halfWidth < n) add(values[i + halfWidth]!);
    if (i - halfWidth - 1 >= 0) remove(values[i - halfWidth - 1]!);
    out[i] =
      count % 2 === 1 ? sorted[count >> 1]! : (sorted[(count >> 1) - 1]! + sorted[count >> 1]!) / 2;
  }
  return out;
}

/**
 * Running median on every `step`-th place with linear interpolation between: for long spectra, where
 * the background is smooth over `step` bins. Same shape as the input.
 */
export function coarseRunningMedian(
  values: Float64Array,
  halfWidth: number,
  step: number,
): Float64Array {
  const n = values.length;
  const count = Math.ceil(n / step) + 1;
  const knots = new Float64Array(count);
  for (let j = 0; j < count; j++) {
    const centre = Math.min(n - 1, j * step);
    const low = Math.max(0, centre - halfWidth);
    const high = Math.min(n, centre + halfWidth + 1);
    knots[j] = nthSmallest(values.slice(low, high), (high - low) >> 1);
  }
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const j = Math.floor(i / step);
    const t = (i - j * step) / step;
    out[i] = knots[j]! + t * (knots[Math.min(j + 1, count - 1)]! - knots[j]!);
  }
  return out;
}
