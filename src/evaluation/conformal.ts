/**
 * Split-conformal threshold: the ⌈(n + 1) cover⌉-th smallest of n scores of labelled cases. A new case
 * of the same kind scores no more than this with a chance of at least `cover`, whatever the scores'
 * distribution (Vovk, Gammerman and Shafer, 2005; Lei et al., 2018). Infinity when n is too small to promise.
 *
 * @param scores shape [n], in any order
 * @param cover 0 to 1
 */
export function conformalThreshold(scores: readonly number[], cover: number): number {
  const sorted = [...scores].sort((a, b) => a - b);
  return sorted[Math.ceil((sorted.length + 1) * cover) - 1] ?? Infinity;
}
