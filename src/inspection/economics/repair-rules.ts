import { ECONOMY } from "./economics.data.js";

/**
 * Largest share of the new price that a repair may cost: 0.5·(1 − age/14) + 0.15, not below 0.
 * A sliding form of the 50 % rule, from memory; `ageYears` from 0.
 */
export const slidingLimit = (ageYears: number): number =>
  Math.max(
    0,
    ECONOMY.slidingShare.value * (1 - ageYears / ECONOMY.slidingLifeYears.value) +
      ECONOMY.slidingFloor.value,
  );

/**
 * The common rule: replace when the repair costs more than half of a like-for-like new machine *and*
 * the machine is past half of its expected life (12.6/2 = 6.3 years).
 */
export const fiftyPercentSaysReplace = (costShare: number, ageYears: number): boolean =>
  costShare > ECONOMY.replaceShare.value && ageYears > ECONOMY.lifeYears.value / 2;

export type Worth = "repair" | "replace" | "undecided";

/** What both rules say over a whole range of costs, as shares of the new price. */
export function worthOf(
  share: { readonly low: number; readonly high: number },
  ageYears: number,
): Worth {
  const limit = slidingLimit(ageYears);
  if (share.high <= limit && !fiftyPercentSaysReplace(share.high, ageYears)) return "repair";
  if (share.low > limit && fiftyPercentSaysReplace(share.low, ageYears)) return "replace";
  return "undecided";
}
