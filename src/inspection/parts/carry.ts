import { ECONOMY } from "../economics/economics.data.js";
import { BANDS } from "../economics/economics.data.js";
import { priceOf, type Prices } from "../economics/prices.js";
import type { Kit, PriceBand } from "./kit.js";

/** By which rule a part is brought or left, with the figures it was worked out from. */
export type CarryRule =
  | {
      readonly rule: "prices";
      readonly secondTrip: number;
      readonly price: number;
      readonly returnPercent: number;
      /** P · second trip. */
      readonly saved: number;
      /** price · return percent / 100. */
      readonly holding: number;
    }
  | { readonly rule: "band"; readonly band: PriceBand; readonly from: number };

export interface Carry {
  readonly bring: boolean;
  readonly by: CarryRule;
  /** Dear part that waits for a hand test. */
  readonly needsHandTest: boolean;
}

/** Band of a price as a share of the new price. */
export function bandOf(price: number, newMachine: number): PriceBand {
  const percent = (100 * price) / newMachine;
  if (percent < BANDS.XS.high) return "XS";
  if (percent < BANDS.S.high) return "S";
  if (percent < BANDS.M.high) return "M";
  return percent <= BANDS.L.high ? "L" : "XL";
}

const isDear = (band: PriceBand): boolean => band !== "XS" && band !== "S";

/**
 * Whether a part is worth carrying.
 *
 * With the part's price and the cost of a second trip: P · second trip > price · return share. Without
 * them: XS and S parts from P = 0.15 on; M and dearer only from P = 0.6 on and once a hand test has
 * confirmed the part.
 */
export function carry(
  kit: Kit & { readonly band: PriceBand },
  probability: number,
  prices: Prices,
  confirmed: boolean,
): Carry {
  const price = priceOf(prices, kit.component);
  const { secondTrip, newMachine } = prices;
  if (price !== null && secondTrip !== undefined) {
    const returnPercent = prices.returnPercent ?? ECONOMY.returnPercent.value;
    const saved = probability * secondTrip;
    const holding = (price * returnPercent) / 100;
    const by = { rule: "prices", secondTrip, price, returnPercent, saved, holding } as const;
    return { bring: saved > holding, by, needsHandTest: false };
  }
  const band = price !== null && newMachine ? bandOf(price, newMachine) : kit.band;
  const dear = isDear(band);
  const from = dear ? ECONOMY.carryDearFrom.value : ECONOMY.carryCheapFrom.value;
  const bring = probability >= from && (!dear || confirmed);
  return { bring, by: { rule: "band", band, from }, needsHandTest: dear && !confirmed };
}
