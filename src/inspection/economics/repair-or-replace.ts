import type { Component } from "../../machine/words.js";
import type { Kit } from "../parts/kit.js";
import { HARD_STOPS, NO_QUOTE_FROM_SOUND, type HardStop } from "./economics.data.js";
import type { Prices } from "./prices.js";
import { repairCost, type MissingPrice, type RepairCost } from "./repair-cost.js";
import { fiftyPercentSaysReplace, slidingLimit, worthOf, type Worth } from "./repair-rules.js";

/** Whether mending one part is worth it. */
export interface Economy {
  readonly component: Component;
  readonly confirmed: boolean;
  /** `undecided`: the rules or the range do not settle it, or something is missing. */
  readonly worth: Worth;
  /** Hard stop that was told or follows from age; then `worth` is `replace`. */
  readonly stop: HardStop | null;
  /** Hard stops nobody has looked for yet. */
  readonly lookFirst: readonly HardStop[];
  /** Null when withheld or when prices are missing. */
  readonly cost: RepairCost | null;
  /** Shares of the new price; null without cost or new price. */
  readonly share: { readonly low: number; readonly high: number } | null;
  /** One figure, in the user's currency: only for a confirmed part with a price told. */
  readonly figure: number | null;
  readonly slidingLimit: number | null;
  /** What the 50 % rule says at the lower and upper end; null when it cannot be asked. */
  readonly fiftyPercent: readonly [low: Worth, high: Worth] | null;
  /** Why no price is said of this part yet. */
  readonly withheld: string | null;
  readonly missing: readonly (MissingPrice | "age")[];
}

interface MachineFacts {
  readonly ageYears: number | null;
  readonly prices: Prices;
}

const belongs = (stop: HardStop, component: Component): boolean =>
  stop.components.length === 0 || stop.components.includes(component);

/** A control board's stop holds by age; the others once the fact is told. */
function holds(stop: HardStop, { ageYears, prices }: MachineFacts): boolean {
  if (stop.fact !== null) return prices.known?.includes(stop.fact) ?? false;
  return ageYears !== null && stop.ageOverYears !== undefined && ageYears > stop.ageOverYears;
}

const isOpen = (stop: HardStop, component: Component, { prices }: MachineFacts): boolean =>
  stop.fact !== null &&
  stop.components.includes(component) &&
  !(stop.clearedBy !== undefined && prices.known?.includes(stop.clearedBy));

function figureOf(cost: RepairCost | null, confirmed: boolean): number | null {
  return cost !== null && confirmed && cost.partTold
    ? (cost.total.low + cost.total.high) / 2
    : null;
}

type Decision = Pick<Economy, "share" | "slidingLimit" | "fiftyPercent" | "worth" | "missing">;

const UNDECIDED = {
  share: null,
  slidingLimit: null,
  fiftyPercent: null,
  worth: "undecided",
} as const;

function decide(cost: RepairCost, { ageYears, prices }: MachineFacts): Decision {
  const { newMachine } = prices;
  const missing: (MissingPrice | "age")[] = ageYears === null ? ["age"] : [];
  if (!newMachine) return { ...UNDECIDED, missing: ["new-price", ...missing] };
  const share = { low: cost.total.low / newMachine, high: cost.total.high / newMachine };
  if (ageYears === null) return { ...UNDECIDED, share, missing };
  const fifty = (x: number): Worth => (fiftyPercentSaysReplace(x, ageYears) ? "replace" : "repair");
  return {
    share,
    slidingLimit: slidingLimit(ageYears),
    fiftyPercent: [fifty(share.low), fifty(share.high)],
    worth: worthOf(share, ageYears),
    missing,
  };
}

/**
 * Repair or replace, for one part.
 *
 * Hard stops first. Then the repair's cost as a share of a like-for-like new machine against
 * 0.5·(1 − age/14) + 0.15 and against the 50 % rule; both must agree over the whole range. Until a hand
 * test confirms the part there is a range only, and for bearing and spider no price at all.
 */
export function repairOrReplace(
  component: Exclude<Component, "normal" | "other">,
  kit: Kit,
  machine: MachineFacts,
  confirmed: boolean,
): Economy {
  const stops = HARD_STOPS.filter((stop) => belongs(stop, component));
  const stop = stops.find((row) => holds(row, machine)) ?? null;
  const lookFirst = stop ? [] : stops.filter((row) => isOpen(row, component, machine));
  const same = { component, confirmed, stop, lookFirst };
  const withheld = confirmed
    ? null
    : (NO_QUOTE_FROM_SOUND.find((row) => row.component === component)?.text ?? null);
  if (withheld !== null) {
    const worth = stop ? "replace" : "undecided";
    return { ...same, ...UNDECIDED, worth, cost: null, figure: null, withheld, missing: [] };
  }
  const sum = repairCost(component, kit, machine.prices);
  if ("missing" in sum) {
    const worth = stop ? "replace" : "undecided";
    const { missing } = sum;
    return { ...same, ...UNDECIDED, worth, cost: null, figure: null, withheld, missing };
  }
  const decision = decide(sum, machine);
  return {
    ...same,
    ...decision,
    worth: stop ? "replace" : decision.worth,
    cost: sum,
    figure: figureOf(sum, confirmed),
    withheld,
  };
}
