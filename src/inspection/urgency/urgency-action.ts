import { namesPart, type Component, type Verdict } from "../../machine/words.js";
import type { Washer } from "../../machine/profile.js";
import { runAgainCautions, unsafeToSpin } from "../cautions.js";
import type { HandTest } from "../checks/hand-test.js";
import { pointsOf } from "../checks/hand-tests.js";
import { mayDo, testsForWasher } from "../checks/machine-fit.js";
import type { PartChance } from "../checks/weigh-findings.js";
import type { NextCheck } from "../next-check.js";
import { isInDoubt, separatingTest, testInWords } from "../next-checks.js";
import { kitsFor, partsToBring } from "../parts/parts-to-bring.js";
import type { Urgency } from "./urgency.js";

/** What a support desk does with a case. */
export const ACTIONS = ["technician", "customer-check", "another-recording", "no-part"] as const;
export type ActionLabel = (typeof ACTIONS)[number];

export interface Action {
  readonly label: ActionLabel;
  /** What to do, or what to send the customer, ready to be copied. */
  readonly text: string;
  /** What the technician brings; empty for the other actions. */
  readonly parts: readonly string[];
}

export interface ActionInput {
  readonly components: readonly PartChance[];
  /** Null: the recording could not be read. */
  readonly verdict: { readonly label: Verdict; readonly text: string } | null;
  readonly nextChecks: readonly NextCheck[];
  readonly washer: Washer;
  readonly urgency: Urgency;
}

/** What stands at the end of every wish for another recording. */
export const HOW_TO_RECORD =
  "Lay the phone on a folded towel half a metre from the machine, not on it; nobody speaks; record 20 seconds or more from the start of the noisy part of the programme, say which part of it that is and which kind of machine, and send the file itself, not a voice note.";

/** What stands at the end of every check for which a customer runs the machine. */
export const WHILE_IT_RUNS = runAgainCautions().join(" ");

const STOP =
  "Tell the customer now to stop using the machine and to pull the plug if it can be reached dry.";

/** Most parts spoken of: the two that the answer leaves open. */
const OPEN_PARTS = 2;

const isFault = (component: Component): boolean => component !== "normal" && component !== "other";

const faultsOf = (components: readonly PartChance[]): PartChance[] =>
  components.filter(({ component }) => isFault(component)).slice(0, OPEN_PARTS);

/** A cause that is put right without a part, by adjusting, unloading or taking something out. */
const needsNoPart = (component: Component, washer: Washer): boolean =>
  kitsFor(component, washer).every((kit) => kit.items.length === 0);

/** Tests that a customer may be asked for here: safe ones, and none that spins a drum that may come loose. */
function customerTests({ washer, components, urgency }: ActionInput): HandTest[] {
  const noSpin = unsafeToSpin(components) || urgency.label === "stop-use";
  return testsForWasher(washer).filter(
    (test) => mayDo(test, "customer") && !(noSpin && test.spins === true),
  );
}

/** A test of the customer's own that decides the case, if there is one. */
function decidingCheck(input: ActionInput): HandTest | undefined {
  const [first, second] = faultsOf(input.components);
  if (!first) return undefined;
  const tests = customerTests(input);
  if (input.verdict?.label === "likely") {
    if (!needsNoPart(first.component, input.washer)) return undefined;
    return tests.find((test) => pointsOf(test).includes(first.component));
  }
  const other = isInDoubt(input.components) ? "normal" : second?.component;
  return other && separatingTest(tests, first.component, other);
}

function technician({ components, nextChecks, washer }: ActionInput, before = ""): Action {
  const open = faultsOf(components).map((row) => row.component);
  const { bring, leave } = partsToBring(components, washer, {}, { confirmed: [] });
  const parts = [...new Set(bring.flatMap(({ items }) => items))];
  const waits = leave.filter((row) => row.needsHandTest && open.includes(row.component));
  const first = nextChecks.find((check) => check.audience === "technician") ?? nextChecks[0];
  const sentences = [
    before,
    parts.length > 0 ? `Send a technician with: ${parts.join("; ")}.` : "Send a technician.",
    waits.length > 0
      ? `Order only once a hand test has found it: ${[...new Set(waits.flatMap(({ items }) => items))].join("; ")}.`
      : "",
    first ? `First check (${first.minutes} min): ${first.text}` : "",
  ];
  return { label: "technician", text: sentences.filter(Boolean).join(" "), parts };
}

/** The verdict's own sentence on how to record would say the same twice. */
const reasonOnly = (text: string): string =>
  text.replace(/(^|(?<=\. ))Record [^.]*\.\s*/g, "").trim();

function anotherRecording(why: string): Action {
  return {
    label: "another-recording",
    text: `Ask for another recording. ${reasonOnly(why)} ${HOW_TO_RECORD}`.replace(/ {2,}/g, " "),
    parts: [],
  };
}

/** Stopped machines wait for a visit; where nothing was heard there are no parts to name. */
function stopped(input: ActionInput): Action {
  const ranked = input.verdict !== null && namesPart(input.verdict.label);
  const bolts = input.components[0]?.component === "shipping-bolts";
  const look = bolts ? `${STOP} Ask whether the shipping bolts were taken out.` : STOP;
  if (ranked) return technician(input, look);
  return { label: "technician", text: `${look} Send a technician.`, parts: [] };
}

/**
 * What to do with one case: send a technician with these parts, ask the customer for a safe check, ask
 * for another recording, or nothing. A customer is asked only for checks that a layman may do.
 */
export function actionFor(input: ActionInput): Action {
  const { verdict, urgency } = input;
  if (urgency.label === "stop-use") return stopped(input);
  if (verdict === null) return anotherRecording("The file could not be used.");
  if (verdict.label === "record-again" || verdict.label === "not-a-washer") {
    return anotherRecording(verdict.text);
  }
  if (verdict.label === "normal-sound") {
    return {
      label: "no-part",
      text: "No part is needed for what is heard: tell the customer that nothing points to a faulty part, and to record again if the noise grows or comes back.",
      parts: [],
    };
  }
  const check = decidingCheck(input);
  if (!check) return technician(input);
  const asked = `Ask the customer: ${testInWords(check, { customer: true })}`;
  return {
    label: "customer-check",
    text: check.power === "covers-on" ? `${asked} ${WHILE_IT_RUNS}` : asked,
    parts: [],
  };
}
