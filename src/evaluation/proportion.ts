/** A share with its 95 % interval and the number of cases. */
export interface Proportion {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly hits: number;
  readonly n: number;
}

const Z95 = 1.959964;

/**
 * Share of hits with Wilson's score interval at 95 %; value NaN and interval [0, 1] when n = 0. Where none or
 * all are hits, the interval ends there exactly.
 * Source: Wilson, J. Am. Stat. Assoc. 22 (1927) 209-212.
 */
export function proportion(hits: number, n: number): Proportion {
  if (n === 0) return { value: NaN, low: 0, high: 1, hits, n };
  const p = hits / n;
  const z2 = Z95 * Z95;
  const centre = (p + z2 / (2 * n)) / (1 + z2 / n);
  const half = (Z95 / (1 + z2 / n)) * Math.sqrt((p * (1 - p)) / n + z2 / (4 * n * n));
  const low = hits === 0 ? 0 : Math.max(0, centre - half);
  const high = hits === n ? 1 : Math.min(1, centre + half);
  return { value: p, low, high, hits, n };
}

/** Share of the items for which `hit` holds. */
export const share = <T>(items: readonly T[], hit: (item: T) => boolean): Proportion =>
  proportion(items.filter(hit).length, items.length);
