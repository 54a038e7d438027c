/** A track that is taken to stand on one of two levels. */
export interface TwoLevels {
  readonly low: number;
  readonly high: number;
  /** Distance of the levels over the spread about them: 2.6 for a single bell curve, 4.1 for a sine. */
  readonly separation: number;
}

/**
 * Splits values into two groups so that the spread inside them is least (Otsu, IEEE Trans. SMC 9
 * (1979) 62-66). Works on sorted values, so the result is exact. Null for fewer than 10 values.
 */
export function twoLevels(values: Float64Array): TwoLevels | null {
  const n = values.length;
  if (n < 10) return null;
  const sorted = Float64Array.from(values).sort();
  let total = 0;
  let squares = 0;
  for (const v of sorted) {
    total += v;
    squares += v * v;
  }
  let below = 0;
  let best = -1;
  let bestAt = 1;
  let bestBelow = 0;
  for (let i = 1; i < n; i++) {
    below += sorted[i - 1]!;
    const gap = below / i - (total - below) / (n - i);
    const between = i * (n - i) * gap * gap;
    if (between > best) {
      best = between;
      bestAt = i;
      bestBelow = below;
    }
  }
  const low = bestBelow / bestAt;
  const high = (total - bestBelow) / (n - bestAt);
  const within = (squares - bestAt * low * low - (n - bestAt) * high * high) / n;
  return { low, high, separation: (high - low) / Math.sqrt(Math.max(1e-9, within)) };
}
