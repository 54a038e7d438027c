import { logSumExp } from "../foundation/statistics.js";
import type { Washer } from "../machine/profile.js";
import type { Component } from "../machine/words.js";
import { audibleChance } from "./audible.js";
import { contributionsOf, type Contribution } from "./contributions.js";
import { CALIBRATION } from "./data/calibration.data.js";
import type { KnownPhase, PhaseView } from "./view.js";

/** What one view says of one part. */
export interface ViewSays {
  /** From where it is heard, and from not knowing where, nats. */
  readonly phaseNats: number;
  readonly contributions: readonly Contribution[];
}

// Heard in this phase: ln P; silent in this phase while heard in another: ln (1 - P).
function heardNats(
  component: Component,
  phase: KnownPhase,
  view: PhaseView,
  washer: Washer,
): number {
  const chance = Math.min(audibleChance(component, phase, washer), 1 - CALIBRATION.phaseFloor);
  return view.heard * Math.log(chance) + (1 - view.heard) * Math.log(1 - chance);
}

/**
 * Sums a view over the phases that it may be of: nats = ln Σ_phase P(phase) e^(heard + rules in that phase).
 * Each phase brings its own rows and its own chance to hear the part in it, so a row of the wash counts only
 * so far as the wash explains what is heard. The rows come back weighted by how much each phase explains;
 * what they do not account for is `phaseNats`.
 */
export function overPhases(
  view: PhaseView,
  components: readonly Component[],
  washer: Washer,
): Map<Component, ViewSays> {
  const said = view.phases.map(({ phase }) => contributionsOf(view, phase, components, washer));
  return new Map(
    components.map((component) => {
      const logs = view.phases.map(({ phase, chance }, i) => {
        const rules = said[i]!.get(component)!.reduce((sum, one) => sum + one.nats, 0);
        return Math.log(chance) + heardNats(component, phase, view, washer) + rules;
      });
      const total = logSumExp(logs);
      const contributions = merged(
        logs.map((log, i) => ({ share: Math.exp(log - total), said: said[i]!.get(component)! })),
      );
      const rules = contributions.reduce((sum, one) => sum + one.nats, 0);
      return [component, { phaseNats: total - rules, contributions }];
    }),
  );
}

/** Adds up what the same row says in each phase. */
function merged(
  parts: readonly { readonly share: number; readonly said: readonly Contribution[] }[],
): Contribution[] {
  const byRule = new Map<string, Contribution>();
  for (const { share, said } of parts) {
    for (const one of said) {
      const before = byRule.get(one.rule.id)?.nats ?? 0;
      byRule.set(one.rule.id, { ...one, nats: before + share * one.nats });
    }
  }
  return [...byRule.values()];
}
