import { WasherNoiseError } from "../../foundation/errors.js";
import { didYouMean } from "../../foundation/similar-word.js";
import type { Component } from "../../machine/words.js";
import { CLOSED_TESTS } from "../data/hand-tests-closed.data.js";
import { OPEN_TESTS } from "../data/hand-tests-open.data.js";
import type { AccessRow, HandTest, Outcome } from "./hand-test.js";

/** All tests, those that need nothing opened first. */
export const HAND_TESTS: readonly HandTest[] = [...CLOSED_TESTS, ...OPEN_TESTS];

/** What an outcome looks like on a machine whose drum lies so; null: the kind is not known. */
export const readsOf = ({ reads, readsOn }: Outcome, axis: AccessRow["axis"] | null): string =>
  (axis === null ? undefined : readsOn?.[axis]) ?? reads;

/** The outcome of a test that could not be done: it teaches nothing and is not asked for again. */
export const NOT_DONE = "not-done";

const unknownWord = (
  what: string,
  received: string,
  allowed: readonly string[],
  facts: Record<string, unknown>,
): WasherNoiseError =>
  new WasherNoiseError(
    "usage",
    `${what} must be one of ${allowed.join(", ")}; received ${JSON.stringify(received)}.${didYouMean(received, allowed)}`,
    { received, allowed, ...facts },
  );

const answersTo = (own: string, also: readonly string[] | undefined, word: string): boolean =>
  own === word || (also?.includes(word) ?? false);

/**
 * The test of that name or by-name. `known` narrows the names that are listed when there is none.
 * Throws `usage`.
 */
export function handTestNamed(word: string, known: readonly HandTest[] = HAND_TESTS): HandTest {
  const test =
    HAND_TESTS.find((row) => row.check === word) ??
    HAND_TESTS.find((row) => answersTo(row.check, row.also, word));
  if (test) return test;
  throw unknownWord(
    "check",
    word,
    known.map((row) => row.check),
    {},
  );
}

/**
 * The outcome of that name or by-name; null for `not-done`. Throws `usage`, listing the test's outcomes.
 */
export function outcomeNamed(test: HandTest, word: string): Outcome | null {
  if (word === NOT_DONE) return null;
  const outcome = test.outcomes.find((row) => answersTo(row.outcome, row.also, word));
  if (outcome) return outcome;
  throw unknownWord(
    `outcome of ${test.check}`,
    word,
    [...test.outcomes.map((row) => row.outcome), NOT_DONE],
    { check: test.check },
  );
}

/** P(outcome | the part is at fault); the first outcome takes what the others leave. */
export function outcomeChance(test: HandTest, outcome: Outcome, component: Component): number {
  const told = (row: Outcome): number => row.chance?.[component] ?? row.otherwise ?? 0;
  if (outcome !== test.outcomes[0]) return told(outcome);
  return 1 - test.outcomes.slice(1).reduce((sum, row) => sum + told(row), 0);
}

/** Parts at which some outcome of the test points. */
export const pointsOf = (test: HandTest): Component[] => [
  ...new Set(test.outcomes.flatMap((outcome) => outcome.points)),
];
