import { percent } from "../foundation/chance-words.js";
import type { Answer, AnsweredRecording, AnsweredSpeed } from "../answer/answer.js";
import { isStopUse, recordingWaits, shortCaution } from "../inspection/cautions.js";
import { COMPONENT_NAMES } from "../diagnosis/data/component-names.data.js";
import type { DiagnosedComponent } from "../diagnosis/diagnose.js";
import type { Estimate } from "../speed/speed-estimate.js";
import { labelled, showControls, wrap } from "./lines.js";
import { oddsInWords } from "./odds.js";
import { seemingContradictions } from "./seeming-contradictions.js";

export interface TextOptions {
  /** Columns. @defaultValue 100 */
  readonly width?: number;
  /** Bold headings with ANSI codes. @defaultValue false */
  readonly color?: boolean;
}

/** The screen must be read without scrolling. */
const MOST_LINES = 40;

const whole = (value: number): string => String(Math.round(value));

const range = (estimate: Estimate): string =>
  `${whole(estimate.value)} rpm (${whole(estimate.low)} to ${whole(estimate.high)})`;

function speedWords(speed: AnsweredSpeed): string {
  const parts: string[] = [];
  if (speed.drumRpm) parts.push(`drum ${range(speed.drumRpm)}`);
  else parts.push("drum speed not heard");
  if (speed.motorRpm) parts.push(`motor ${range(speed.motorRpm)}`);
  if (speed.lineHz) parts.push(`${speed.lineHz} Hz mains`);
  if (speed.notes.includes("told-speed-contradicted")) {
    parts.push("which contradicts the speed you gave");
  }
  return parts.join(", ");
}

function recordingWords(recording: AnsweredRecording): string {
  const [low, high] = recording.bandHz;
  const band = `usable ${whole(low)} Hz to ${(high / 1000).toFixed(1)} kHz`;
  const seconds = recording.durationSeconds.toFixed(recording.durationSeconds < 10 ? 1 : 0);
  return `${showControls(recording.file)}: ${seconds} s, ${recording.codec}, ${band}`;
}

const ranks = ({ verdict }: Answer): boolean =>
  verdict.label !== "record-again" && verdict.label !== "not-a-washer";

/** Sound, phase and speed; an abstention does not claim to have heard that nothing is unusual. */
function soundWords(answer: Answer): string {
  const { phase, character, speed } = answer;
  const calm = ranks(answer) ? ["no unusual noise"] : [];
  const sound = character.label === "none" ? calm : [character.label];
  const ear = phase.given ? "" : " (judged from the sound)";
  const where = phase.label === "unknown" ? "phase not known" : `phase ${phase.label}${ear}`;
  return [...sound, where, speedWords(speed)].join("; ");
}

function heardLines(answer: Answer, width: number): string[] {
  const lines = labelled("Heard", soundWords(answer), width);
  for (const recording of answer.recordings.slice(0, 4)) {
    lines.push(...labelled("", recordingWords(recording), width));
    // What the verdict says already is not said twice.
    const problems = recording.problems.filter(
      ({ message }) => !answer.verdict.text.includes(message),
    );
    for (const problem of problems.slice(0, 2)) {
      lines.push(...labelled("", `! ${problem.message}`, width));
    }
  }
  if (answer.recordings.length > 4) {
    lines.push(...labelled("", `and ${answer.recordings.length - 4} more recordings`, width));
  }
  return lines;
}

/** What a screen has room for. */
interface Budget {
  /** How many reasons for and against each place of the ranking is told with. */
  readonly fors: readonly number[];
  readonly againsts: readonly number[];
  /** Warnings in a few words each, as far as they may be. */
  readonly brief: boolean;
  readonly checks: number;
}

const room = (
  fors: readonly number[],
  againsts: readonly number[],
  { brief = true, checks = 2 } = {},
): Budget => ({ fors, againsts, brief, checks });

/** From generous to terse: the first that fits the screen is used. */
const BUDGETS: readonly Budget[] = [
  room([3, 1, 1, 1, 1], [1, 1], { brief: false }),
  room([3, 1, 1], [1, 1], { brief: false }),
  room([3, 1], [1], { brief: false }),
  room([3, 1], [1]),
  room([2, 1], [1]),
  room([2], [1]),
  room([2], []),
  room([1, 1], []),
  room([1], []),
  room([1], [], { checks: 1 }),
];

const reasonLines = (sign: string, text: string, width: number): string[] =>
  wrap(`${"\u00a0".repeat(7)}${sign} ${text}`, width, " ".repeat(9));

interface ToldReason {
  readonly sign: "+" | "-";
  readonly rule: string;
  readonly text: string;
}

/** The reasons of one place of the ranking that the budget leaves room for. */
const toldReasons = (row: DiagnosedComponent, index: number, budget: Budget): ToldReason[] => [
  ...row.for.slice(0, budget.fors[index] ?? 0).map((reason) => ({ ...reason, sign: "+" as const })),
  ...row.against
    .slice(0, budget.againsts[index] ?? 0)
    .map((reason) => ({ ...reason, sign: "-" as const })),
];

function componentLines(
  row: DiagnosedComponent,
  index: number,
  budget: Budget,
  width: number,
): string[] {
  const name = COMPONENT_NAMES[row.component] + (row.condition ? `, ${row.condition}` : "");
  const chance = percent(row.probability).padStart(5);
  const head = `  ${index + 1}  ${name.padEnd(44)} ${chance}  ${oddsInWords(row.probability)}`;
  return [
    head.trimEnd(),
    ...toldReasons(row, index, budget).flatMap(({ sign, text }) => reasonLines(sign, text, width)),
  ];
}

/** A sentence about the list as a whole, under it. */
const noteLines = (text: string, width: number): string[] =>
  wrap(`${"\u00a0".repeat(5)}${text}`, width, " ".repeat(5));

/** A longer list helps nobody to decide where to look. */
const MOST_SET_PARTS = 6;

function setLines({ predictionSet }: Answer, width: number): string[] {
  const { cover, components } = predictionSet;
  if (components.length > MOST_SET_PARTS) return [];
  const which = components.length === 1 ? "the first part" : `the first ${components.length} parts`;
  const text = `A list cut off after ${which} held the cause in ${percent(cover)} of simulated recordings.`;
  return noteLines(text, width);
}

/** As many as carry some chance, and all of the set that is spoken of below them. */
function rankingLines(answer: Answer, budget: Budget, width: number): string[] {
  const set = answer.predictionSet.components.length;
  const least = Math.max(2, set <= MOST_SET_PARTS ? set : 0);
  const shown = answer.components.filter(
    (row, i) => i < least || (i < 5 && row.probability >= 0.04),
  );
  const rest = answer.components.slice(shown.length);
  const restChance = rest.reduce((sum, row) => sum + row.probability, 0);
  const told = shown.flatMap((row, i) => toldReasons(row, i, budget));
  return [
    "Parts",
    ...shown.flatMap((row, i) => componentLines(row, i, budget, width)),
    `     ${`${rest.length} others together`.padEnd(44)} ${percent(restChance).padStart(5)}`,
    ...seemingContradictions(told).flatMap((text) => noteLines(text, width)),
    ...setLines(answer, width),
  ];
}

function checkLines(answer: Answer, count: number, width: number): string[] {
  if (answer.nextChecks.length === 0) return [];
  return answer.nextChecks.slice(0, count).flatMap((check, i) => {
    const who = check.audience === "customer" ? "the customer may do it" : "technician";
    const text = `${check.text} (${check.minutes} min, ${who}; ${check.why})`;
    return labelled(i === 0 ? "Check next" : "then", text, width);
  });
}

/**
 * The verdict, and what must stop now before anything is read about parts. Where a new recording is wanted
 * of a machine that must not run, the stop comes before the wish.
 */
function topLines({ verdict, cautions }: Answer, width: number): string[] {
  const stop = cautions.filter(isStopUse);
  const texts = recordingWaits(cautions) ? [...stop, verdict.text] : [verdict.text, ...stop];
  return texts.flatMap((text) => wrap(text, width));
}

/** Every warning but those to stop, which stand above. */
function cautionLines({ cautions }: Answer, brief: boolean, width: number): string[] {
  const told = cautions.filter((text) => !isStopUse(text));
  const shorts = told.map((text) => (brief ? shortCaution(text) : null));
  const list = shorts.filter((text) => text !== null).join("; ");
  const texts = told.filter((_, i) => shorts[i] === null);
  if (list !== "") texts.push(`Also: ${list}.`);
  return texts.flatMap((text, i) => labelled(i === 0 ? "Take care" : "", text, width));
}

/** Facts that the sound does not show: where nobody tells them, every kind is considered. */
const LEFT_OPEN: readonly string[] = ["kind of machine", "age"];

function notToldLines({ estimated, phase }: Answer, width: number): string[] {
  const leftOpen = phase.label === "unknown" ? [...LEFT_OPEN, "phase"] : LEFT_OPEN;
  const open = estimated.filter((fact) => leftOpen.includes(fact));
  const heard = estimated.filter((fact) => !leftOpen.includes(fact));
  const parts = [
    open.length === 0 ? "" : `${open.join(", ")} (all are considered)`,
    heard.length === 0 ? "" : `${heard.join(", ")} (taken from the sound)`,
  ].filter((part) => part !== "");
  return parts.length === 0 ? [] : labelled("Not told", parts.join("; "), width);
}

const joined = (sections: readonly (readonly string[])[]): string[] =>
  sections.filter((section) => section.length > 0).flatMap((s, i) => (i === 0 ? s : ["", ...s]));

/**
 * The answer as a person reads it: first line the verdict, then what must stop now, what was heard, the ranking with
 * reasons, the next check, cautions, and what nobody told. At most 40 lines.
 */
export function diagnosisText(answer: Answer, options: TextOptions = {}): string {
  const { width = 100, color = false } = options;
  const ranked = ranks(answer);
  const bold = (line: string): string => (color ? `\u001b[1m${line}\u001b[22m` : line);
  const screens = BUDGETS.map((budget) =>
    joined([
      topLines(answer, width).map(bold),
      heardLines(answer, width),
      ranked ? rankingLines(answer, budget, width) : [],
      ranked ? checkLines(answer, budget.checks, width) : [],
      cautionLines(answer, budget.brief, width),
      notToldLines(answer, width),
    ]),
  );
  const lines = screens.find((screen) => screen.length <= MOST_LINES) ?? screens.at(-1)!;
  return `${lines.join("\n")}\n`;
}
