import { nthSmallest } from "./nth-smallest.js";

/** Any list of numbers that can be read by index. */
export type Numbers = ArrayLike<number>;

// Puts the values in another order.
function quantileWithin(values: Float64Array, p: number): number {
  const position = p * (values.length - 1);
  const below = Math.floor(position);
  const above = Math.min(below + 1, values.length - 1);
  const low = nthSmallest(values, below);
  const high = above === below ? low : nthSmallest(values, above, above);
  return low + (position - below) * (high - low);
}

/** Quantile by linear interpolation (type 7 of Hyndman and Fan); NaN when there are no values. */
export const quantile = (values: Numbers, p: number): number =>
  values.length === 0 ? NaN : quantileWithin(new Float64Array(values), p);

/** Several quantiles of the same values. */
export function quantiles(values: Numbers, ps: readonly number[]): number[] {
  if (values.length === 0) return ps.map(() => NaN);
  const copy = new Float64Array(values);
  return ps.map((p) => quantileWithin(copy, p));
}

/** The middle value; NaN when there are no values. */
export const median = (values: Numbers): number => quantile(values, 0.5);

/** Arithmetic mean; NaN when there are no values. */
export function mean(values: Numbers): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]!;
  return sum / values.length;
}

/** Population variance (divides by n). */
export function variance(values: Numbers): number {
  const centre = mean(values);
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += (values[i]! - centre) ** 2;
  return sum / values.length;
}

/** Pearson's correlation of two rows of the same length, -1 to 1; 0 where one does not vary. */
export function correlation(a: Numbers, b: Numbers): number {
  const meanA = mean(a);
  const meanB = mean(b);
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i]! - meanA) * (b[i]! - meanB);
  return sum / (a.length * Math.sqrt(variance(a) * variance(b)) + 1e-12);
}

/** Median absolute deviation times 1.4826, which estimates the standard deviation of normal data. */
export function robustDeviation(values: Numbers): number {
  if (values.length === 0) return NaN;
  const distances = new Float64Array(values);
  const centre = quantileWithin(distances, 0.5);
  for (let i = 0; i < distances.length; i++) distances[i] = Math.abs(distances[i]! - centre);
  return 1.4826 * quantileWithin(distances, 0.5);
}

/** Fourth standardised moment minus 3: 0 for normal data, -1.5 for a sine. */
export function excessKurtosis(values: Numbers): number {
  const centre = mean(values);
  let second = 0;
  let fourth = 0;
  for (let i = 0; i < values.length; i++) {
    const square = (values[i]! - centre) ** 2;
    second += square;
    fourth += square * square;
  }
  return (values.length * fourth) / (second * second) - 3;
}

/** Least-squares line y = intercept + slope x, with the standard error of the slope. */
export function fitLine(
  x: Numbers,
  y: Numbers,
): { slope: number; intercept: number; slopeError: number } {
  const n = x.length;
  const xMean = mean(x);
  const yMean = mean(y);
  let sxx = 0;
  let sxy = 0;
  for (let i = 0; i < n; i++) {
    sxx += (x[i]! - xMean) ** 2;
    sxy += (x[i]! - xMean) * (y[i]! - yMean);
  }
  const slope = sxy / sxx;
  const intercept = yMean - slope * xMean;
  let residual = 0;
  for (let i = 0; i < n; i++) residual += (y[i]! - intercept - slope * x[i]!) ** 2;
  return { slope, intercept, slopeError: Math.sqrt(residual / Math.max(1, n - 2) / sxx) };
}

/** ln Σ e^v without overflow. */
export function logSumExp(values: Numbers): number {
  let top = -Infinity;
  for (let i = 0; i < values.length; i++) top = Math.max(top, values[i]!);
  if (top === -Infinity) return top;
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += Math.exp(values[i]! - top);
  return top + Math.log(sum);
}

/** 1 / (1 + e^-x). */
export const logistic = (x: number): number => 1 / (1 + Math.exp(-x));

export const clamp = (value: number, low: number, high: number): number =>
  Math.min(high, Math.max(low, value));
