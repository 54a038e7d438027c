import type { Component } from "../machine/words.js";
import {
  COMPLAINT_FACTORS,
  COMPLAINT_WORDS,
  HARD_USE,
  NEGATIONS,
  type ComplaintFact,
} from "./data/complaint.data.js";

const isNegation = (word: string): boolean =>
  word.endsWith("n't") || (NEGATIONS.words as readonly string[]).includes(word);

const takenBack = (before: string): boolean =>
  (before.match(/[a-z']+/g) ?? []).slice(-NEGATIONS.within).some(isNegation);

/** Parts of sentences: a "no" in one says nothing of the next. */
const clausesOf = (text: string): string[] =>
  text
    .toLowerCase()
    .replaceAll("\u2019", "'")
    .split(/[.;,!?\n]|\bbut\b/);

const saysSo = (clause: string, pattern: string): boolean =>
  [...clause.matchAll(new RegExp(pattern, "g"))].some(
    (match) => !takenBack(clause.slice(0, match.index)),
  );

/**
 * Facts that a complaint in the customer's own words tells. English; "no leak" and "doesn't smoke" tell
 * nothing. What is not recognised is left out, never guessed.
 */
export function complaintFacts(text: string): ComplaintFact[] {
  const clauses = clausesOf(text);
  const told = COMPLAINT_WORDS.filter(({ patterns, unless = [] }) =>
    clauses.some(
      (clause) =>
        patterns.some((pattern) => saysSo(clause, pattern)) &&
        !unless.some((pattern) => new RegExp(pattern).test(clause)),
    ),
  );
  return [...new Set(told.map((row) => row.fact))];
}

/** Factors on single parts from told facts: the product over all facts that speak of the part. */
export function complaintFactors(
  facts: readonly ComplaintFact[],
): Partial<Record<Component, number>> {
  const factors: Partial<Record<Component, number>> = {};
  for (const row of COMPLAINT_FACTORS) {
    if (facts.includes(row.fact)) {
      factors[row.component] = (factors[row.component] ?? 1) * row.factor;
    }
  }
  return factors;
}

/** Age in years as wear goes: above eight loads a week, a machine counts as loads / 4 times as old. */
export function wornYears(ageYears: number, loadsPerWeek: number | undefined): number {
  if (loadsPerWeek === undefined || loadsPerWeek <= HARD_USE.fromLoads) return ageYears;
  return (ageYears * loadsPerWeek) / HARD_USE.perWeek;
}
