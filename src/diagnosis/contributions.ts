import type { Measurement } from "../evidence/evidence.js";
import { clamp } from "../foundation/statistics.js";
import type { Component } from "../machine/words.js";
import type { Washer } from "../machine/profile.js";
import { audibleChance, say } from "./audible.js";
import { CALIBRATION } from "./data/calibration.data.js";
import { LEARNED } from "./data/learned.data.js";
import { presenceOf } from "./presence.js";
import type { Rule, RuleGroup } from "./rule.js";
import { RULES } from "./rules.js";
import { viewMeasurement, type KnownPhase, type PhaseView } from "./view.js";

/** What one row of the table says of one part, in nats, before groups are tempered. */
export interface Contribution {
  readonly rule: Rule;
  readonly component: Component;
  readonly nats: number;
  /** Degree of presence of the pattern, 0 to 1. */
  readonly x: number;
  readonly measurement: Measurement;
}

const capped = (weight: number): number => clamp(weight, -CALIBRATION.rowCap, CALIBRATION.rowCap);

/** Expert weight plus what simulation has taught, which may move it by at most one nat. */
function weightOf(rule: Rule, side: "present" | "absent", component: Component): number {
  const expert = (side === "present" ? rule.present : rule.absent)?.[component] ?? 0;
  const learned = LEARNED[`${rule.id}/${side}/${component}`] ?? 0;
  return capped(expert + learned);
}

function contributionsOfRule(
  rule: Rule,
  view: PhaseView,
  components: readonly Component[],
): Contribution[] {
  const measurement = viewMeasurement(view, rule.feature);
  const x = presenceOf(rule.presence, measurement);
  const trust = x === null ? 0 : measurement!.quality;
  if (x === null || trust < 0.02) return [];
  const found: Contribution[] = [];
  for (const component of components) {
    const present = weightOf(rule, "present", component);
    const absent = weightOf(rule, "absent", component);
    if (present === 0 && absent === 0) continue;
    const nats = trust * (x * present + (1 - x) * absent);
    found.push({ rule, component, nats, x, measurement: measurement! });
  }
  return found;
}

/**
 * Divides the rows of each group by 1 + (n - 1) rho, where n = (Σ|c|)² / Σc² counts the rows that
 * really carry weight, and caps the group.
 */
function tempered(contributions: readonly Contribution[]): Contribution[] {
  const groups = new Map<RuleGroup, Contribution[]>();
  for (const one of contributions) {
    groups.set(one.rule.group, [...(groups.get(one.rule.group) ?? []), one]);
  }
  return [...groups.values()].flatMap((group) => {
    const size = group.reduce((sum, one) => sum + Math.abs(one.nats), 0);
    const squares = group.reduce((sum, one) => sum + one.nats ** 2, 0);
    if (squares === 0) return [];
    const effective = size ** 2 / squares;
    const divided = 1 / (1 + (effective - 1) * CALIBRATION.groupCorrelation);
    const total = Math.abs(group.reduce((sum, one) => sum + one.nats, 0)) * divided;
    const factor = divided * (total > CALIBRATION.groupCap ? CALIBRATION.groupCap / total : 1);
    return group.map((one) => ({ ...one, nats: one.nats * factor }));
  });
}

/** All rows that speak for or against each part in one view, were it of `phase`; tempered by group. */
export function contributionsOf(
  view: PhaseView,
  phase: KnownPhase,
  components: readonly Component[],
  washer: Washer,
): Map<Component, Contribution[]> {
  const rules = RULES.filter((rule) => !rule.phases || rule.phases.includes(phase));
  const all = rules.flatMap((rule) => contributionsOfRule(rule, view, components));
  return new Map(
    components.map((component) => {
      const share = say(audibleChance(component, phase, washer));
      const own = all
        .filter((one) => one.component === component)
        .map((one) => ({ ...one, nats: share * one.nats }));
      return [component, tempered(own)];
    }),
  );
}
