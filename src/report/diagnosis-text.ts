import type { Answer, AnsweredRecording, AnsweredSpeed } from "../answer/answer.js";
import { COMPONENT_NAMES } from "../diagnosis/data/component-names.data.js";
import type { DiagnosedComponent } from "../diagnosis/diagnose.js";
import type { Estimate } from "../speed/speed-estimate.js";
import { showControls, wrap } from "./lines.js";
import { oddsInWords, percent } from "./odds.js";

export interface TextOptions {
  /** Columns. @defaultValue 100 */
  readonly width?: number;
  /** Bold headings with ANSI codes. @defaultValue false */
  readonly color?: boolean;
}

/** The screen must be read without scrolling. */
const MOST_LINES = 40;
const LABEL_WIDTH = 11;

const whole = (value: number): string => String(Math.round(value));

const range = (estimate: Estimate): string =>
  `${whole(estimate.value)} rpm (${whole(estimate.low)}-${whole(estimate.high)})`;

function speedWords(speed: AnsweredSpeed): string {
  const parts: string[] = [];
  if (speed.drumRpm) parts.push(`drum ${range(speed.drumRpm)}`);
  else parts.push("drum speed not heard");
  if (speed.motorRpm) parts.push(`motor ${range(speed.motorRpm)}`);
  if (speed.lineHz) parts.push(`${speed.lineHz} Hz mains`);
  if (speed.notes.includes("told-speed-contradicted")) {
    parts.push("the sound contradicts the speed you gave");
  }
  return parts.join(", ");
}

function recordingWords(recording: AnsweredRecording): string {
  const [low, high] = recording.bandHz;
  const band = `usable ${whole(low)} Hz to ${(high / 1000).toFixed(1)} kHz`;
  const seconds = recording.durationSeconds.toFixed(recording.durationSeconds < 10 ? 1 : 0);
  return `${showControls(recording.file)}: ${seconds} s, ${recording.codec}, ${band}`;
}

function labelled(label: string, text: string, width: number): string[] {
  const indent = " ".repeat(LABEL_WIDTH);
  return wrap(`${label.padEnd(LABEL_WIDTH, "\u00a0")}${text}`, width, indent).map((line) =>
    line.replaceAll("\u00a0", " "),
  );
}

function heardLines(answer: Answer, width: number): string[] {
  const { phase, character } = answer;
  const where = phase.label === "unknown" ? "phase not known" : `phase ${phase.label}`;
  const sound = character.label === "none" ? "no unusual noise" : character.label;
  const lines = labelled("Heard", `${sound}; ${where}; ${speedWords(answer.speed)}`, width);
  for (const recording of answer.recordings.slice(0, 4)) {
    lines.push(...labelled("", recordingWords(recording), width));
    for (const problem of recording.problems.slice(0, 2)) {
      lines.push(...labelled("", `! ${problem.message}`, width));
    }
  }
  if (answer.recordings.length > 4) {
    lines.push(...labelled("", `and ${answer.recordings.length - 4} more recordings`, width));
  }
  return lines;
}

function componentLines(row: DiagnosedComponent, place: number, width: number): string[] {
  const name = COMPONENT_NAMES[row.component] + (row.condition ? `, ${row.condition}` : "");
  const chance = percent(row.probability).padStart(5);
  const head = `  ${place}  ${name.padEnd(44)} ${chance}  ${oddsInWords(row.probability)}`;
  const fors = row.for.slice(0, place === 1 ? 3 : 1);
  const againsts = row.against.slice(0, place <= 2 ? 1 : 0);
  return [
    head.trimEnd(),
    ...fors.flatMap((reason) =>
      wrap(`       + ${reason.text}`.replace(/^ {7}/, "\u00a0".repeat(7)), width, " ".repeat(9)),
    ),
    ...againsts.flatMap((reason) =>
      wrap(`${"\u00a0".repeat(7)}- ${reason.text}`, width, " ".repeat(9)),
    ),
  ].map((line) => line.replaceAll("\u00a0", " "));
}

function rankingLines(answer: Answer, width: number): string[] {
  const shown = answer.components.filter((row, i) => i < 2 || (i < 5 && row.probability >= 0.04));
  const rest = answer.components.slice(shown.length);
  const restChance = rest.reduce((sum, row) => sum + row.probability, 0);
  return [
    "Parts",
    ...shown.flatMap((row, i) => componentLines(row, i + 1, width)),
    `     ${`${rest.length} others together`.padEnd(44)} ${percent(restChance).padStart(5)}`,
  ];
}

function checkLines(answer: Answer, width: number): string[] {
  if (answer.nextChecks.length === 0) return [];
  return answer.nextChecks.slice(0, 2).flatMap((check, i) => {
    const who = check.audience === "customer" ? "the customer may do it" : "technician";
    const text = `${check.text} (${check.minutes} min, ${who})`;
    return labelled(i === 0 ? "Check next" : "then", text, width);
  });
}

const cautionLines = (answer: Answer, width: number): string[] =>
  answer.cautions
    .slice(0, 3)
    .flatMap((text, i) => labelled(i === 0 ? "Take care" : "", text, width));

/** Removes reasons from the last part up until the screen fits. */
function fitted(sections: string[][]): string[] {
  const lines = sections.filter((section) => section.length > 0).flatMap((s) => [...s, ""]);
  for (let i = lines.length - 1; i >= 0 && lines.length > MOST_LINES; i--) {
    if (/^ {7}[+-] |^ {9}\S/.test(lines[i]!)) lines.splice(i, 1);
  }
  return lines.slice(0, -1);
}

/**
 * The answer as a person reads it: first line the verdict, then what was heard, the ranking with
 * reasons, the next check, cautions, and what was estimated. At most 40 lines.
 */
export function diagnosisText(answer: Answer, options: TextOptions = {}): string {
  const { width = 100, color = false } = options;
  const ranked = answer.verdict.label !== "record-again" && answer.verdict.label !== "not-a-washer";
  const estimated =
    answer.estimated.length > 0
      ? labelled(
          "Estimated",
          `${answer.estimated.join(", ")} (not told, taken from the sound)`,
          width,
        )
      : [];
  const lines = fitted([
    wrap(answer.verdict.text, width),
    heardLines(answer, width),
    ranked ? rankingLines(answer, width) : [],
    ranked ? checkLines(answer, width) : [],
    cautionLines(answer, width),
    estimated,
  ]);
  if (color) lines[0] = `\u001b[1m${lines[0]}\u001b[22m`;
  return `${lines.join("\n")}\n`;
}
