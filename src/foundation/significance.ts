import { quantile, type Numbers } from "./statistics.js";

/**
 * Holm's step-down adjustment: keeps the chance of any false alarm in the family below the level.
 * Returns adjusted p-values in the order given. Source: Holm, Scand. J. Statist. 6 (1979) 65-70.
 */
export function holmAdjust(pValues: readonly number[]): number[] {
  const order = pValues.map((_, i) => i).sort((a, b) => pValues[a]! - pValues[b]!);
  const adjusted = new Array<number>(pValues.length);
  let running = 0;
  order.forEach((index, rank) => {
    running = Math.max(running, Math.min(1, pValues[index]! * (pValues.length - rank)));
    adjusted[index] = running;
  });
  return adjusted;
}

/** Simes' combination of dependent p-values: min over i of n p(i) / i. Biometrika 73 (1986) 751. */
export function simesCombine(pValues: readonly number[]): number {
  const sorted = [...pValues].sort((a, b) => a - b);
  return Math.min(1, ...sorted.map((p, i) => (p * sorted.length) / (i + 1)));
}

/**
 * p-value of `observed` against decoys that went through the same maximisation.
 *
 * Rank p = (1 + number of decoys at or above) / (1 + number of decoys); beyond the largest decoy the
 * tail is continued as an exponential fitted above the decoys' 85 % quantile, so that a strong line
 * is not stuck at 1/n. Range (0, 1].
 */
export function decoyPValue(observed: number, decoys: Numbers): number {
  const n = decoys.length;
  if (n === 0) return 1;
  let atOrAbove = 0;
  for (let i = 0; i < n; i++) if (decoys[i]! >= observed) atOrAbove++;
  const rankP = (1 + atOrAbove) / (1 + n);
  if (atOrAbove > 3) return rankP;
  const start = quantile(decoys, 0.85);
  let excess = 0;
  let count = 0;
  for (let i = 0; i < n; i++) {
    if (decoys[i]! > start) {
      excess += decoys[i]! - start;
      count++;
    }
  }
  if (count === 0 || excess === 0) return rankP;
  const tailP = (count / n) * Math.exp((-(observed - start) * count) / excess);
  return Math.max(1e-12, Math.min(rankP, tailP));
}

/**
 * Log-likelihood ratio that a p-value can carry at most: ln(1 / (-e p ln p)) for p < 1/e, else 0.
 * Source: Sellke, Bayarri and Berger, Am. Statistician 55 (2001) 62-71 (cited from memory).
 */
export const pValueToLogOdds = (p: number): number =>
  p >= Math.exp(-1) ? 0 : Math.log(1 / (-Math.E * p * Math.log(p)));
