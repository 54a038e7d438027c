import type { Proportion } from "../evaluation/proportion.js";

/** A share with its interval; where all or none of the cases hit, its end is that, whatever rounding left over. */
export const intervalOf = (share: Proportion): Proportion => ({
  ...share,
  low: share.hits === 0 ? 0 : share.low,
  high: share.hits === share.n ? 1 : share.high,
});
