import { capital } from "../foundation/first-letter.js";
import { partInSentence } from "../diagnosis/part-words.js";
import type { Component, Verdict } from "../machine/words.js";
import { unsafeToSpin } from "./cautions.js";
import { accessOf, axisOfParts, type Axis } from "./checks/machine-access.js";
import type { HandTest, Outcome } from "./checks/hand-test.js";
import { howTold } from "./checks/how-told.js";
import { HAND_TESTS, outcomeChance, pointsOf, readsOf } from "./checks/hand-tests.js";
import type { PartChance } from "./checks/weigh-findings.js";
import { accessSum } from "./plan/order-problem.js";
import type { NextCheck } from "./next-check.js";

/** Tests that separate two parts nearly as well as the best are as good; the first in the table wins. */
const AS_GOOD = 0.03;
/** A test that opens nothing and that the owner may do comes first even where it separates a little less. */
const OWNER_AS_GOOD = 0.1;
const LEAST_SEPARATION = 0.3;

/** How differently the test turns out for two parts: 0 the same, 1 never the same (total variation). */
export const separation = (test: HandTest, a: Component, b: Component): number =>
  test.outcomes.reduce(
    (sum, outcome) =>
      sum + Math.abs(outcomeChance(test, outcome, a) - outcomeChance(test, outcome, b)) / 2,
    0,
  );

/** The test that tells two parts apart best, the owner's before those that need a cover off; undefined when none does. */
export function separatingTest(
  tests: readonly HandTest[],
  a: Component,
  b: Component,
): HandTest | undefined {
  const best = Math.max(...tests.map((test) => separation(test, a, b)), 0);
  if (best < LEAST_SEPARATION) return undefined;
  const within = (less: number) => (test: HandTest) => separation(test, a, b) >= best - less;
  return (
    tests.filter(({ who }) => who === "customer").find(within(OWNER_AS_GOOD)) ??
    tests.find(within(AS_GOOD))
  );
}

/** "Fail" alone does not say of what; other outcomes are named by what is heard or felt. */
const outcomeHead = (outcome: string): string =>
  outcome === "fail" ? "A fault" : capital(outcome.replaceAll("-", " "));

const sentence = (outcome: Outcome, axis: Axis | null): string =>
  `${outcomeHead(outcome.outcome)}: ${readsOf(outcome, axis)}.`;

interface WordsFor {
  readonly customer: boolean;
  /** How the drum lies, where that is known. @defaultValue null */
  readonly axis?: Axis | null;
  /** What the machine may have: where its drive is not known, the drive that the test is for is named. */
  readonly parts?: readonly Component[];
}

/** The test in a few sentences: state of the plug, what to do, what the telling outcomes mean. */
export function testInWords(
  test: HandTest,
  { customer, axis = null, parts = [] }: WordsFor,
): string {
  const pull = customer ? "Pull the plug. " : "Unplugged. ";
  const plug = test.power === "unplugged" ? pull : "";
  const telling = test.outcomes.filter((outcome) => outcome.points.length > 0);
  return [
    `${plug}${howTold(test, customer, parts)}`,
    ...telling.map((outcome) => sentence(outcome, axis)),
  ].join(" ");
}

/** Minutes with all opening, on the slower kind of machine when the kind is not known. */
function wholeMinutes(test: HandTest, axis: Axis | null): number {
  const axes: readonly Axis[] = axis === null ? ["horizontal", "vertical"] : [axis];
  const opening = axes.map((one) => {
    const access = accessOf(one);
    const minutes = access.rows.map((row) => row.minutes);
    return accessSum(minutes, access.bitsOf(test.access));
  });
  return test.minutes + Math.max(...opening);
}

/** Whether a machine with these parts can have the test; a mere pair of parts says nothing of the rest. */
function suits(test: HandTest, parts: readonly Component[], axis: Axis | null): boolean {
  const whole = parts.includes("normal");
  if (test.axis !== undefined && test.axis !== axis) return false;
  return test.needsPart === undefined || !whole || parts.includes(test.needsPart);
}

const isFault = (part: Component): boolean => part !== "normal" && part !== "other";

/** A machine in order is one of the two likeliest: the first question is whether anything is wrong. */
export const isInDoubt = (components: readonly PartChance[]): boolean =>
  components
    .filter(({ component }) => component !== "other")
    .slice(0, 2)
    .some(({ component }) => component === "normal");

/** Where nothing seems wrong, a part of this chance is still worth minutes of the owner's. */
const WORTH_ASKING = 0.1;
/** A test that separates nearly as well and takes fewer minutes is the better question. */
const NEARLY_AS_GOOD = 0.2;

/** The quickest of the tests that tell the part at fault from a machine in order. */
function faultOrNone(
  tests: readonly HandTest[],
  fault: Component,
  axis: Axis | null,
): HandTest | undefined {
  const best = Math.max(...tests.map((test) => separation(test, fault, "normal")), 0);
  const enough = Math.max(best - NEARLY_AS_GOOD, LEAST_SEPARATION);
  return tests
    .filter((test) => separation(test, fault, "normal") >= enough)
    .sort((a, b) => wholeMinutes(a, axis) - wholeMinutes(b, axis))[0];
}

interface Asked {
  readonly test: HandTest;
  readonly separates: readonly [Component, Component];
  /** What the test is for, in a few words. */
  readonly why: string;
}

/** Whether the likeliest part is at fault at all; where nothing seems wrong only by what its owner may do. */
function askedOfDoubt(
  tests: readonly HandTest[],
  components: readonly PartChance[],
  verdict: Verdict,
): Asked[] {
  const fault = components.find(({ component }) => isFault(component));
  if (fault === undefined) return [];
  const calm = verdict === "normal-sound";
  if (calm && fault.probability < WORTH_ASKING) return [];
  const own = calm ? tests.filter((test) => test.who === "customer") : tests;
  const axis = axisOfParts(components.map(({ component }) => component));
  const test = faultOrNone(own, fault.component, axis);
  const why = `shows whether it is ${partInSentence(fault.component)} at all`;
  return test === undefined ? [] : [{ test, separates: [fault.component, "normal"], why }];
}

/** The test that tells the two likeliest faults apart, then one that confirms the first. */
function askedOfFaults(
  tests: readonly HandTest[],
  parts: readonly Component[],
  axis: Axis | null,
): Asked[] {
  const [first, second] = parts.filter(isFault);
  if (!first || !second) return [];
  const both = separatingTest(tests, first, second);
  const confirm = tests.find((test) => test !== both && pointsOf(test).includes(first));
  const separates: Asked["separates"] = [first, second];
  const apart = `tells ${partInSentence(first)} from ${partInSentence(second)}, the two likeliest`;
  const quicker =
    both !== undefined &&
    confirm !== undefined &&
    wholeMinutes(confirm, axis) < wholeMinutes(both, axis);
  const alone = `bears out ${partInSentence(first)}${quicker ? "; quicker, so a visit may start with it" : ""}`;
  return [
    ...(both === undefined ? [] : [{ test: both, separates, why: apart }]),
    ...(confirm === undefined ? [] : [{ test: confirm, separates, why: alone }]),
  ];
}

/**
 * The check that best tells the two likeliest apart: two faults, or a fault and a machine in order where
 * that is one of the two. Where nothing seems wrong nobody is sent inside a machine: one check that its
 * owner may do, or none. `next-check` plans the whole visit; this is the short answer of a diagnosis.
 */
export function nextChecksFor(components: readonly PartChance[], verdict: Verdict): NextCheck[] {
  if (verdict === "not-a-washer" || verdict === "record-again") return [];
  const parts = components.map((row) => row.component);
  const axis = axisOfParts(parts);
  const noSpin = unsafeToSpin(components);
  const tests = HAND_TESTS.filter(
    (test) =>
      test.who !== "licensed" && !(noSpin && test.spins === true) && suits(test, parts, axis),
  );
  const inDoubt = verdict === "normal-sound" || isInDoubt(components);
  const asked = inDoubt
    ? askedOfDoubt(tests, components, verdict)
    : askedOfFaults(tests, parts, axis);
  return asked.map(({ test, separates, why }) => ({
    check: test.check,
    text: testInWords(test, { customer: test.who === "customer", axis, parts }),
    minutes: wholeMinutes(test, axis),
    audience: test.who === "customer" ? "customer" : "technician",
    separates: [...separates],
    why,
  }));
}
