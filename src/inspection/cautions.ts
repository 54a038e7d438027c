import { namesPart, type Component, type Verdict } from "../machine/words.js";
import type { PartChance } from "./checks/weigh-findings.js";
import { accessOf, axisOfParts, type Axis } from "./checks/machine-access.js";
import type { HandTest, TestCautionId } from "./checks/hand-test.js";
import { HAND_TESTS } from "./checks/hand-tests.js";
import {
  CAUTIONS,
  RECORDING_WAITS,
  RUN_AGAIN,
  STOP_USE,
  type CautionRow,
} from "./data/cautions.data.js";
import type { NextCheck } from "./next-check.js";

/** A stop-use warning is given from this chance on: the harm outweighs a needless pause. */
const STOP_FROM = 0.3;
const CAUTION_FROM = 0.12;

/** For whoever is asked to run the machine once more. */
export const runAgainCautions = (): string[] => RUN_AGAIN.map((row) => row.text);

const AXES: readonly Axis[] = ["horizontal", "vertical"];

/** Warnings of a test and of opening the machine for it; null: on either kind of machine. */
export const cautionsOfTest = (
  { access, cautions }: HandTest,
  axis: Axis | null,
): TestCautionId[] => {
  const opening = (axis === null ? AXES : [axis]).flatMap((one) => {
    const machine = accessOf(one);
    return machine.rowsOf(machine.bitsOf(access)).flatMap((row) => row.cautions);
  });
  return [...new Set([...opening, ...cautions])];
};

/** Warnings of work on a part. */
export const cautionIdsOfPart = (part: Component): TestCautionId[] =>
  CAUTIONS.filter(({ components }) => components.includes(part)).flatMap(
    ({ withChecks = [] }) => withChecks,
  );

const testsOf = (checks: readonly Pick<NextCheck, "check">[]): HandTest[] =>
  HAND_TESTS.filter((test) => checks.some(({ check }) => check === test.check));

const isGeneral = ({ components, withChecks }: CautionRow): boolean =>
  components.length === 0 && withChecks === undefined;

/**
 * Warnings that belong to the likely parts and to the checks advised, stop-use first, then the general ones,
 * no sentence twice; those of work on a part only where a part is named, those of a running machine where
 * another recording, or a check that runs it, is asked for. They defer to local rules and licensed people.
 */
export function cautionsFor(
  components: readonly PartChance[],
  verdict: Verdict,
  checks: readonly Pick<NextCheck, "check">[] = [],
): string[] {
  if (verdict === "not-a-washer") return runAgainCautions();
  const named = namesPart(verdict);
  const likely = components
    .filter((row) => named && row.probability >= CAUTION_FROM)
    .map((r) => r.component);
  const tests = testsOf(checks);
  const axis = axisOfParts(components.map((row) => row.component));
  const warned = tests.flatMap((test) => cautionsOfTest(test, axis));
  const special = CAUTIONS.filter(
    (row) =>
      row.components.some((c) => likely.includes(c)) ||
      row.withChecks?.some((id) => warned.includes(id)),
  );
  const again = verdict === "record-again";
  const runs = again || tests.some(({ power }) => power === "covers-on");
  return [
    ...new Set([
      ...stopUseFor(components),
      ...(again && unsafeToSpin(components) ? [RECORDING_WAITS.text] : []),
      ...(runs ? runAgainCautions() : []),
      ...[...CAUTIONS.filter(isGeneral), ...special].map((row) => row.text),
    ]),
  ];
}

/** Reasons to stop using the machine now that belong to the likely parts. */
export function stopUseFor(components: readonly PartChance[]): string[] {
  const grave = components.filter((row) => row.probability >= STOP_FROM).map((r) => r.component);
  return STOP_USE.filter((row) => row.components.some((c) => grave.includes(c))).map(
    (row) => row.text,
  );
}

const shortTexts: ReadonlyMap<string, string> = new Map(
  CAUTIONS.flatMap(({ text, short }) => (short === undefined ? [] : [[text, short] as const])),
);

/** A caution in a few words; null for those that are only told in full. */
export const shortCaution = (caution: string): string | null => shortTexts.get(caution) ?? null;

const stopTexts: ReadonlySet<string> = new Set(
  [...STOP_USE, RECORDING_WAITS].map((row) => row.text),
);

/** Whether a caution asks to stop using the machine: such cautions are said before anything else. */
export const isStopUse = (caution: string): boolean => stopTexts.has(caution);

/** Whether a new recording is wanted of a machine that must not run before somebody has looked at it. */
export const recordingWaits = (cautions: readonly string[]): boolean =>
  cautions.includes(RECORDING_WAITS.text);

/** Parts that may come loose at speed: with one of them this likely, nobody is asked to spin the machine. */
export const unsafeToSpin = (components: readonly PartChance[]): boolean =>
  components.some(
    (row) =>
      row.probability >= STOP_FROM &&
      STOP_USE.some((stop) => stop.nospin && stop.components.includes(row.component)),
  );
