import type { Washer } from "../../machine/profile.js";
import type { Component } from "../../machine/words.js";
import type { KnownFinding, PartChance } from "../checks/weigh-findings.js";
import type { Prices } from "../economics/prices.js";
import { repairOrReplace, type Economy } from "../economics/repair-or-replace.js";
import { confirmedParts } from "./confirmed-parts.js";
import { kitsFor, partsToBring, type VisitParts } from "./parts-to-bring.js";

export interface VisitInput {
  /** Chances with all findings weighed. */
  readonly ranking: readonly PartChance[];
  readonly machine: Washer;
  readonly ageYears: number | null;
  readonly prices: Prices;
  readonly findings: readonly KnownFinding[];
}

/** What to take along, and whether mending is worth it. */
export interface Visit {
  readonly parts: VisitParts;
  readonly prices: Prices;
  readonly ageYears: number | null;
  /** Parts that are likely enough to be worth a sum, likeliest first. */
  readonly economy: readonly Economy[];
}

/** A sum is made for parts from this chance on, for at most three of them. */
const SUM_FROM = 0.15;
const MOST_SUMS = 3;

type Mendable = Exclude<Component, "normal" | "other">;
const isMendable = (component: Component): component is Mendable =>
  component !== "normal" && component !== "other";

/** Parts to bring and repair-or-replace for one machine, from chances, prices and hand findings. */
export function planVisit(input: VisitInput): Visit {
  const { ranking, machine, ageYears, prices, findings } = input;
  const confirmed = confirmedParts(ranking, findings, machine);
  const likely = [...ranking]
    .sort((a, b) => b.probability - a.probability)
    .filter(({ probability }) => probability >= SUM_FROM)
    .map(({ component }) => component)
    .filter(isMendable)
    .slice(0, MOST_SUMS);
  const economy = likely.flatMap((component) => {
    const kit = kitsFor(component, machine)[0];
    if (!kit) return [];
    return [repairOrReplace(component, kit, { ageYears, prices }, confirmed.includes(component))];
  });
  return {
    parts: partsToBring(ranking, machine, prices, { confirmed }),
    prices,
    ageYears,
    economy,
  };
}
