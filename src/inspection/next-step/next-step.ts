import { roundedChance } from "../../foundation/chance-words.js";
import type { Washer } from "../../machine/profile.js";
import type { Component } from "../../machine/words.js";
import {
  cautionIdsOfPart,
  cautionsOfTest,
  runAgainCautions,
  stopUseFor,
  unsafeToSpin,
} from "../cautions.js";
import type { Audience, HandTest, MachineEnd, TestCautionId } from "../checks/hand-test.js";
import { accessOf, axisOf, type Axis, type MachineAccess } from "../checks/machine-access.js";
import { howTold } from "../checks/how-told.js";
import { readsOf } from "../checks/hand-tests.js";
import { mayDo, testsForWasher } from "../checks/machine-fit.js";
import { findingNats, weighFindings, type PartChance } from "../checks/weigh-findings.js";
import { TEST_CAUTIONS } from "../data/access.data.js";
import type { Job, JobPlan } from "../job/job.js";
import { separatingTest } from "../next-checks.js";
import {
  findableChance,
  orderProblem,
  planChecks,
  type CheckPlan,
  type PlannedCheck,
} from "../plan/plan-checks.js";
import { confirmedParts, testsBeforeQuote } from "../parts/confirmed-parts.js";
import { stopReason, type StopReason } from "../plan/stop.js";
import { contradictionsOf } from "./contradictions.js";
import { countedFindings, readFindings, type ReadFinding } from "./job-findings.js";
import type { AdvisedCheck, NextStep, ReadableFinding } from "./next-step-answer.js";
import { asksForRecording, openText, stopText } from "./next-step-wording.js";
import { startingChances } from "./starting-chances.js";

/** What is open after the findings: what their tests opened since the machine last ran closed. */
function openAfter(findings: readonly ReadFinding[], access: MachineAccess): number {
  let open = 0;
  for (const { test, known } of findings) {
    if (!known) continue;
    open = test.power === "covers-on" ? 0 : open | access.bitsOf(test.access);
  }
  return open;
}

/** Tests that this audience may do on this machine, not done yet and safe with what is suspected. */
function openTests(
  washer: Washer,
  audience: Audience,
  findings: readonly ReadFinding[],
  parts: readonly PartChance[],
): HandTest[] {
  const noSpin = unsafeToSpin(parts);
  return testsForWasher(washer).filter(
    (test) =>
      mayDo(test, audience) &&
      !findings.some((row) => row.test === test || test.notAfter?.includes(row.test.check)) &&
      !(noSpin && test.spins === true),
  );
}

const MOST_MOVED = 3;

function readable(
  row: ReadFinding,
  components: readonly Component[],
  axis: Axis | null,
): ReadableFinding {
  const { finding, known, replaced } = row;
  const moves = known
    ? components.map((component) => ({
        component,
        nats: findingNats(known, component, components),
      }))
    : [];
  const strongest = [...moves].sort((a, b) => Math.abs(b.nats) - Math.abs(a.nats));
  const round = (nats: number): number => Math.round(100 * nats) / 100;
  const pick = (sign: 1 | -1) =>
    strongest
      .filter(({ nats }) => sign * nats > 0.2)
      .slice(0, MOST_MOVED)
      .map(({ component, nats }) => ({ component, nats: round(nats) }));
  return {
    ...finding,
    reads: known ? readsOf(known.outcome, axis) : "could not be done",
    counts: known !== null && !replaced,
    for: pick(1),
    against: pick(-1),
  };
}

interface AdvisedFor {
  readonly audience: Audience;
  /** How the drum lies, where the kind is known. */
  readonly axis: Axis | null;
  readonly components: readonly Component[];
}

function advised(row: PlannedCheck, { audience, axis, components }: AdvisedFor): AdvisedCheck {
  const { test } = row;
  const cautions = new Set<TestCautionId>([
    ...row.opens.flatMap((access) => access.cautions),
    ...test.cautions,
  ]);
  return {
    check: test.check,
    text: howTold(test, audience === "customer", components),
    minutes: row.minutes,
    ownMinutes: test.minutes,
    audience: test.who,
    power: test.power,
    opens: row.opens.map(({ access, words, end, minutes }) => ({ access, words, end, minutes })),
    closesFirst: row.closesFirst,
    outcomes: test.outcomes.map((row) => ({
      outcome: row.outcome,
      reads: readsOf(row, axis),
      points: row.points.filter((part) => components.includes(part)),
    })),
    tools: [...new Set([...row.opens.flatMap((access) => access.tools), ...test.tools])],
    cautions: [...cautions],
    foundBy: roundedChance(row.foundBy, 3),
    source: test.source,
    provenance: test.provenance,
  };
}

/** The end at which the plan first opens the machine, and how many checks come before. */
function firstOpening(plan: CheckPlan): { end: MachineEnd; before: number } | null {
  const before = plan.checks.findIndex((row) =>
    row.opens.some((one) => one.access !== "moved-out"),
  );
  if (before < 0) return null;
  const { end } = plan.checks[before]!.opens.find((one) => one.access !== "moved-out")!;
  return { end, before };
}

const inOrder = (ids: readonly TestCautionId[]): string[] =>
  (Object.keys(TEST_CAUTIONS) as TestCautionId[])
    .filter((id) => ids.includes(id))
    .map((id) => TEST_CAUTIONS[id]);

/** Tools are told for this many checks, cautions for the first of them. */
const TOOLS_FOR = 6;
const CAUTIONS_FOR = 3;

interface CautionFacts {
  readonly parts: readonly PartChance[];
  readonly stop: StopReason | null;
  readonly audience: Audience;
  readonly axis: Axis | null;
  readonly nextChecks: readonly AdvisedCheck[];
  readonly beforeQuote: readonly HandTest[];
}

/** Warnings for whoever mends what was found, and does the check that is left before a price is said. */
function repairCautions({ parts, stop, audience, axis, beforeQuote }: CautionFacts) {
  if (stop !== "found" || audience === "customer") return [];
  const ofLeft = beforeQuote.flatMap((test) => cautionsOfTest(test, axis));
  return ["unplug" as const, ...cautionIdsOfPart(parts[0]!.component), ...ofLeft];
}

/** Stop-use first, then what goes with running the machine again, with the checks, and with the repair. */
function stepCautions(facts: CautionFacts): string[] {
  const { parts, stop, audience, nextChecks } = facts;
  const runs = asksForRecording(stop, audience) && !unsafeToSpin(parts);
  const ofChecks = nextChecks.slice(0, CAUTIONS_FOR).flatMap((check) => check.cautions);
  return [
    ...stopUseFor(parts),
    ...(runs ? runAgainCautions() : []),
    ...inOrder([...ofChecks, ...repairCautions(facts)]),
  ];
}

export interface NextStepOptions {
  /** @defaultValue "technician" */
  readonly audience?: Audience;
}

/**
 * What to inspect next: chances after all findings, the order of checks with the least expected minutes
 * until the fault is found, which end to open first, tools, cautions, contradictions, and whether to stop.
 *
 * Pure: no files, no clock. Throws `job-file-invalid` for a finding that the table does not know.
 */
export function nextStep(job: Job, washer: Washer, options: NextStepOptions = {}): NextStep {
  const { audience = "technician" } = options;
  const start = startingChances(job, washer);
  const rows = readFindings(job);
  const findings = countedFindings(rows);
  const parts = weighFindings(start.parts, findings);
  const components = parts.map((part) => part.component);
  const axis = axisOf(washer);
  const access = accessOf(axis ?? "vertical");
  const tests = openTests(washer, audience, rows, parts);
  const input = { parts, tests, access, open: openAfter(rows, access) };
  const findable = findableChance(orderProblem(input));
  const stop = stopReason({ parts, findings, tests, findable });
  const confirmed = confirmedParts(parts, findings, washer);
  const names = testsBeforeQuote(components[0]!, washer, confirmed, tests);
  const beforeQuote = tests.filter(({ check }) => names.includes(check));
  const plan = stop === null ? planChecks(input) : { checks: [], expectedMinutes: 0, exact: true };
  const nextChecks = plan.checks.map((row) => advised(row, { audience, axis, components }));
  const [first, second] = components.filter((part) => part !== "normal" && part !== "other");
  const separating = stop === null && first && second && separatingTest(tests, first, second);
  const opening = firstOpening(plan);
  const before = new Map(start.parts.map((part) => [part.component, part.probability]));
  return {
    schema: "washer-noise/next-check@1",
    machine: { id: washer.id, label: washer.label },
    audience,
    basis: { from: start.basis, text: start.text },
    components: parts.map(({ component, probability }) => ({
      component,
      probability,
      before: before.get(component)!,
    })),
    findings: rows.map((row) => readable(row, components, axis)),
    contradictions: contradictionsOf(findings, start.parts, start.basis === "diagnosis"),
    stop: stop && {
      reason: stop,
      text: stopText(stop, {
        parts,
        audience,
        safeToRun: !unsafeToSpin(parts),
        beforeQuote: beforeQuote.map((test) => ({
          check: test.check,
          how: howTold(test, false, components),
        })),
      }),
    },
    open: opening && { end: opening.end, text: openText(opening, axis !== null, audience) },
    nextChecks,
    expectedMinutes: Math.round(10 * plan.expectedMinutes) / 10,
    exact: plan.exact,
    separating: separating ? { check: separating.check, between: [first!, second!] } : null,
    tools: [...new Set(nextChecks.slice(0, TOOLS_FOR).flatMap((check) => check.tools))],
    cautions: stepCautions({ parts, stop, audience, axis, nextChecks, beforeQuote }),
  };
}

/** The plan as the job keeps it. `at`: when it was made. */
export const planOf = (answer: NextStep, at: string): JobPlan => ({
  at,
  audience: answer.audience,
  open: answer.open?.end ?? null,
  stop: answer.stop?.text ?? null,
  checks: answer.nextChecks.map((check) => check.check),
});
