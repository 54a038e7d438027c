import { PHASE_PRIORS } from "../evidence/phase/phase-signs.data.js";
import type { Washer } from "../machine/profile.js";
import type { Component } from "../machine/words.js";
import { audibleChance } from "./audible.js";
import { KNOWN_PHASES } from "./view.js";

/** Share of a machine's recordings in which the part's fault is heard, were phases recorded as they usually are. */
function heardShare(component: Component, washer: Washer): number {
  let heard = 0;
  let all = 0;
  for (const phase of KNOWN_PHASES) {
    const weight = Math.exp(PHASE_PRIORS[phase]);
    heard += weight * audibleChance(component, phase, washer);
    all += weight;
  }
  return heard / all;
}

/**
 * Chance of each part where one phase alone was recorded. Whoever hears a noise records the phase in which it is
 * heard: P(phase | part) = usual(phase) audible(part, phase) / Σ over phases of the same. Ranking multiplies by
 * audible(part, phase); the sum below the fraction, which favours what is seldom heard elsewhere, is taken up
 * here. How likely anything is wrong stays as it was: that a phase was recorded says which part, not whether.
 */
export function whereOnePhaseWasChosen(
  prior: ReadonlyMap<Component, number>,
  washer: Washer,
): Map<Component, number> {
  const isPart = (component: Component): boolean => component !== "normal" && component !== "other";
  const before = [...prior].filter(([component]) => isPart(component));
  const after = before.map(
    ([component, chance]) => [component, chance / heardShare(component, washer)] as const,
  );
  const sum = (rows: readonly (readonly [Component, number])[]): number =>
    rows.reduce((total, [, chance]) => total + chance, 0);
  const scale = sum(before) / sum(after);
  const chosen = new Map(after.map(([component, chance]) => [component, scale * chance]));
  return new Map(
    [...prior].map(([component, chance]) => [component, chosen.get(component) ?? chance]),
  );
}
