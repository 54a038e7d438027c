import { clamp, logSumExp } from "../../foundation/statistics.js";
import type { Component } from "../../machine/words.js";
import type { HandTest, Outcome } from "./hand-test.js";
import { outcomeChance } from "./hand-tests.js";

/** Chance of one part; a list of them sums to 1. */
export interface PartChance {
  readonly component: Component;
  readonly probability: number;
}

/** A finding with its rows of the table. */
export interface KnownFinding {
  readonly test: HandTest;
  readonly outcome: Outcome;
}

/** No single finding shifts a part by more than this against the parts it says nothing of, in nats. */
const MOST_NATS = 4;
/** Two findings that feel the same thing count for 2/(1 + ρ) findings, not for two. */
const SHARED = 0.5;
/** A part is never ruled out for good: hands and ears err. */
const LEAST_CHANCE = 1e-6;

/** Weight of a finding on a part in nats: ln P(outcome | part) against an average part. */
export function findingNats(
  { test, outcome }: KnownFinding,
  component: Component,
  components: readonly Component[],
): number {
  const chances = components.map((one) => outcomeChance(test, outcome, one));
  const mean = chances.reduce((sum, chance) => sum + chance, 0) / chances.length;
  const own = outcomeChance(test, outcome, component);
  return clamp(Math.log(Math.max(own, 1e-4) / Math.max(mean, 1e-4)), -MOST_NATS, MOST_NATS);
}

/** Sum over findings, those of one group divided by 1 + (k - 1)ρ. */
function allNats(
  findings: readonly KnownFinding[],
  component: Component,
  components: readonly Component[],
): number {
  let sum = 0;
  for (const finding of findings) {
    const { group } = finding.test;
    const alike = group ? findings.filter((one) => one.test.group === group).length : 1;
    sum += findingNats(finding, component, components) / (1 + (alike - 1) * SHARED);
  }
  return sum;
}

/**
 * Chances after the findings: score = ln P(before) + Σ nats, softmax over the parts. Sorted, sums to 1.
 * The same additive table as in the diagnosis, with findings for observations.
 */
export function weighFindings(
  before: readonly PartChance[],
  findings: readonly KnownFinding[],
): PartChance[] {
  const components = before.map((row) => row.component);
  const scores = before.map(
    ({ component, probability }) =>
      Math.log(Math.max(probability, LEAST_CHANCE)) + allNats(findings, component, components),
  );
  const sum = logSumExp(scores);
  return before
    .map(({ component }, i) => ({ component, probability: Math.exp(scores[i]! - sum) }))
    .sort((a, b) => b.probability - a.probability);
}

/** P(outcome) before the test is done. */
export const expectedChance = (
  { test, outcome }: KnownFinding,
  parts: readonly PartChance[],
): number =>
  parts.reduce(
    (sum, { component, probability }) =>
      sum + probability * outcomeChance(test, outcome, component),
    0,
  );
