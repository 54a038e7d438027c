import type { Component } from "../../machine/words.js";
import type { Kit } from "../parts/kit.js";
import { BANDS, ECONOMY, EFFORT } from "./economics.data.js";
import { priceOf, type Prices } from "./prices.js";

/** From the least to the most, in the user's currency. */
export interface CostRange {
  readonly low: number;
  readonly high: number;
}

/** What a repair comes to, and what it was added up from. */
export interface RepairCost {
  readonly part: CostRange;
  /** True when the user told the part's price; otherwise it is a band of the new price. */
  readonly partTold: boolean;
  readonly minutes: CostRange;
  readonly labourPerHour: number;
  readonly accessFactor: number;
  readonly callOut: number;
  readonly total: CostRange;
}

/** Options that must be told before a sum can be made. */
export type MissingPrice = "labour-per-hour" | "new-price" | "price";

function partRange(kit: Kit, prices: Prices): CostRange | null {
  if (kit.band === null || kit.dearest === null) return { low: 0, high: 0 };
  const told = priceOf(prices, kit.component);
  if (told !== null) return { low: told, high: told };
  if (prices.newMachine === undefined) return null;
  return {
    low: (BANDS[kit.band].low / 100) * prices.newMachine,
    high: (BANDS[kit.dearest].high / 100) * prices.newMachine,
  };
}

/**
 * Part + call-out + minutes/60 · labour per hour (· 1.3 when built in or stacked).
 *
 * Minutes to confirm and to mend, both from their table. A price that was not told is the band of that
 * part as a share of the new price. What is missing is named, never taken as 0.
 */
export function repairCost(
  component: Exclude<Component, "normal" | "other">,
  kit: Kit,
  prices: Prices,
): RepairCost | { readonly missing: readonly MissingPrice[] } {
  const part = partRange(kit, prices);
  const { labourPerHour } = prices;
  if (part === null || labourPerHour === undefined) {
    const missing: MissingPrice[] = labourPerHour === undefined ? ["labour-per-hour"] : [];
    return { missing: part === null ? [...missing, "price", "new-price"] : missing };
  }
  const { confirmMinutes, fixMinutes } = EFFORT[component];
  const minutes = {
    low: confirmMinutes[0] + fixMinutes[0],
    high: confirmMinutes[1] + fixMinutes[1],
  };
  const accessFactor = prices.hardAccess ? ECONOMY.hardAccessFactor.value : 1;
  const callOut = prices.callOut ?? 0;
  const labour = (worked: number): number => (worked / 60) * labourPerHour * accessFactor;
  return {
    part,
    partTold: priceOf(prices, component) !== null || kit.band === null,
    minutes,
    labourPerHour,
    accessFactor,
    callOut,
    total: {
      low: part.low + labour(minutes.low) + callOut,
      high: part.high + labour(minutes.high) + callOut,
    },
  };
}
