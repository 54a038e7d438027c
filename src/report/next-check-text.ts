import { lower } from "../foundation/first-letter.js";
import { percent } from "../foundation/chance-words.js";
import { isStopUse } from "../inspection/cautions.js";
import { partInSentence } from "../diagnosis/part-words.js";
import { COMPONENT_NAMES } from "../diagnosis/data/component-names.data.js";
import type {
  AdvisedCheck,
  NextStep,
  ReadableFinding,
} from "../inspection/next-step/next-step-answer.js";
import type { Component } from "../machine/words.js";
import { checkTitle } from "./html/check-titles.js";
import { LABEL_WIDTH, labelled, showControls, wrap } from "./lines.js";
import { oddsInWords } from "./odds.js";
import { laterSeparatingStep } from "./separating-step.js";

export interface NextCheckTextOptions {
  /** Columns. @defaultValue 100 */
  readonly width?: number;
  /** Bold first line with ANSI codes. @defaultValue false */
  readonly color?: boolean;
  /** How the job file is called in the last line. @defaultValue "JOB" */
  readonly job?: string;
}

/** Steps told in full, and steps told at all; the rest are counted. */
const FULL_STEPS = 2;
const SHOWN_STEPS = 7;
const SHOWN_PARTS = 5;

const names = (components: readonly Component[]): string =>
  components.map((component) => COMPONENT_NAMES[component]).join(", ");

const minutes = (value: number): string => `${Math.round(value)} min`;

function findingText(finding: ReadableFinding): string {
  const parts = [
    finding.for.length > 0 ? `for ${names(finding.for.map((row) => row.component))}` : "",
    finding.against.length > 0
      ? `against ${names(finding.against.map((row) => row.component))}`
      : "",
  ].filter((text) => text !== "");
  const moved = finding.counts && parts.length > 0 ? ` (${parts.join("; ")})` : "";
  const old = finding.counts || finding.outcome === "not-done" ? "" : " (done again later)";
  const note = finding.note === undefined ? "" : ` Note: ${showControls(finding.note)}.`;
  return `${finding.check}=${finding.outcome}: ${finding.reads}${moved}${old}.${note}`;
}

function partLines(answer: NextStep): string[] {
  const rows = answer.components.slice(0, SHOWN_PARTS);
  const moved = answer.findings.length > 0;
  return rows.map(({ component, probability, before }, i) => {
    const was = moved ? `  was ${percent(before).padStart(4)}` : "";
    const name = COMPONENT_NAMES[component].padEnd(38);
    const head = (i === 0 ? "Parts" : "").padEnd(LABEL_WIDTH);
    return `${head}${i + 1}  ${name} ${percent(probability).padStart(5)}${was}  ${oddsInWords(probability)}`;
  });
}

function who(check: AdvisedCheck): string {
  if (check.audience === "licensed") return ", licensed person only";
  return check.audience === "customer" ? ", a customer may do it" : "";
}

const PLUG = {
  unplugged: "unplugged",
  "covers-on": "running by its programme, all covers on",
  live: "open and under power",
} as const;

function stepHead(check: AdvisedCheck): string {
  const opening = check.opens.map((one) => one.words);
  if (check.closesFirst) opening.unshift("everything closed again");
  const opened = opening.length > 0 ? `, with ${opening.join(", ")}` : "";
  const own =
    check.minutes > check.ownMinutes ? ` (${minutes(check.ownMinutes)} of it the test)` : "";
  return `${checkTitle(check.check)} (${check.check}), ${minutes(check.minutes)}${own}, ${PLUG[check.power]}${opened}${who(check)}`;
}

/** Text below a step's number. */
function below(text: string, hang: number, width: number): string[] {
  const indent = " ".repeat(LABEL_WIDTH + 3);
  return wrap(text, width - indent.length, " ".repeat(hang)).map((line) => `${indent}${line}`);
}

function outcomeLines(check: AdvisedCheck, width: number): string[] {
  const column = Math.max(...check.outcomes.map(({ outcome }) => outcome.length)) + 2;
  return check.outcomes.flatMap(({ outcome, reads, points }) => {
    const at = points.length > 0 ? ` -> ${names(points)}` : "";
    return below(`${outcome.padEnd(column, "\u00a0")}${reads}${at}`, column, width);
  });
}

function stepLines(answer: NextStep, width: number): string[] {
  const { nextChecks } = answer;
  const steps = nextChecks.slice(0, SHOWN_STEPS).flatMap((check, i) => {
    const label = `${(i === 0 ? "Do" : "").padEnd(LABEL_WIDTH, "\u00a0")}${i + 1}\u00a0\u00a0`;
    const head = wrap(`${label}${stepHead(check)}`, width, " ".repeat(LABEL_WIDTH + 3));
    if (i >= FULL_STEPS) return head;
    return [...head, ...below(check.text, 0, width), ...outcomeLines(check, width)];
  });
  const more = nextChecks.length - SHOWN_STEPS;
  const notes = [
    more > 0 ? `And ${more} more ${more === 1 ? "check" : "checks"}.` : "",
    nextChecks.length > FULL_STEPS
      ? `How the checks from step ${FULL_STEPS + 1} on are done and turn out is told when they come next; --html shows all at once.`
      : "",
  ].filter((text) => text !== "");
  return [...steps, ...(notes.length > 0 ? labelled("", notes.join(" "), width) : [])];
}

function headline(answer: NextStep): string {
  if (answer.stop) return answer.stop.text;
  const first = answer.nextChecks[0];
  if (!first) return "No check is left to advise.";
  const { foundBy } = answer.nextChecks.at(-1)!;
  const title = checkTitle(first.check);
  const head = `Next: ${lower(title)} (${first.check}), ${minutes(first.minutes)}.`;
  const after = `after ${minutes(answer.expectedMinutes)} on average`;
  return foundBy < 0.5
    ? `${head} These checks find the part in only ${percent(foundBy)} of such cases, ${after}.`
    : `${head} This order finds the part in ${percent(foundBy)} of such cases, ${after}.`;
}

function separatingLines(answer: NextStep, width: number): string[] {
  const { separating } = answer;
  const step = laterSeparatingStep(answer);
  if (separating === null || step === null) return [];
  const [a, b] = separating.between.map(partInSentence);
  const text = `cheap looks come first; step ${step}, ${separating.check}, is what tells ${a} from ${b}.`;
  return labelled("Order", text, width);
}

const blocks = (sections: readonly (readonly string[])[]): string[] =>
  sections.filter((rows) => rows.length > 0).flatMap((rows, i) => (i === 0 ? rows : ["", ...rows]));

/**
 * The next step as a technician reads it: first line what to do or why to stop, then what must not be used, what it rests on,
 * contradictions, the parts, where to open, the steps, tools, cautions and how to tell the outcome.
 */
export function nextCheckText(answer: NextStep, options: NextCheckTextOptions = {}): string {
  const { width = 100, color = false, job = "JOB" } = options;
  const first = answer.nextChecks[0];
  const lines = blocks([
    [headline(answer), ...answer.cautions.filter(isStopUse)].flatMap((text) => wrap(text, width)),
    [
      ...labelled("Machine", showControls(answer.machine.label), width),
      ...labelled("From", showControls(answer.basis.text), width),
      ...answer.findings.flatMap((row, i) =>
        labelled(i === 0 ? "Found" : "", findingText(row), width),
      ),
    ],
    answer.contradictions.flatMap((row, i) =>
      labelled(i === 0 ? "DISAGREE" : "", `! ${row.text}`, width),
    ),
    partLines(answer),
    [
      ...(answer.open ? labelled("Open", answer.open.text, width) : []),
      ...(answer.tools.length > 0 ? labelled("Check with", answer.tools.join(", "), width) : []),
    ],
    stepLines(answer, width),
    separatingLines(answer, width),
    answer.cautions
      .filter((text) => !isStopUse(text))
      .flatMap((text, i) => labelled(i === 0 ? "Take care" : "", text, width)),
    first
      ? labelled(
          "Tell it",
          `washer-noise next-check ${showControls(job)} --found ${first.check}=${first.outcomes.at(-1)!.outcome}`,
          width,
        )
      : [],
  ]);
  if (color) lines[0] = `\u001b[1m${lines[0]}\u001b[22m`;
  return `${lines.join("\n")}\n`;
}
