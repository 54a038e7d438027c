import type { TriageSummary } from "../answer/triage-summary.js";
import { showControls, wrap } from "./lines.js";
import {
  countWords,
  partWords,
  recordingCautions,
  soundWords,
  toDoWords,
  triageGroups,
  VERDICT_WORDS,
} from "./triage-words.js";

export interface TriageTextOptions {
  /** Columns. @defaultValue 100 */
  readonly width?: number;
  /** Bold headings with ANSI codes. @defaultValue false */
  readonly color?: boolean;
}

/** Widths of the columns; the last takes what is left. */
const VERDICT_WIDTH = 16;
const SOUND_WIDTH = 22;
const MOST_TO_DO_LINES = 7;
const INDENT = "    ";

/** Cut to a width, the loss marked. */
const fit = (text: string, width: number): string =>
  text.length <= width ? text.padEnd(width) : `${text.slice(0, Math.max(0, width - 1))}…`;

const nameOf = ({ ticket, file }: TriageSummary): string =>
  showControls(ticket === null ? file : `${ticket}  ${file}`);

function toDoLines(text: string, width: number): string[] {
  const lines = wrap(showControls(text), width - INDENT.length - 3);
  const shown = lines.slice(0, MOST_TO_DO_LINES);
  if (lines.length > shown.length) shown[shown.length - 1] += " …";
  return shown.map((line, i) => `${INDENT}${i === 0 ? "→ " : "  "}${line}`);
}

/** Verdict, sound and the two likeliest parts; parts that find no room beside them stand below, whole. */
function factLines(row: TriageSummary, width: number): string[] {
  const facts = [
    fit(VERDICT_WORDS[row.verdict], VERDICT_WIDTH),
    fit(soundWords(row), SOUND_WIDTH),
  ].join("  ");
  const parts = row.parts.slice(0, 2).map(partWords).join(", ");
  const line = `${facts}  ${parts}`.trimEnd();
  const room = width - INDENT.length;
  const lines = line.length <= room ? [line] : [facts.trimEnd(), ...wrap(parts, room)];
  return lines.map((one) => INDENT + fit(one, room).trimEnd());
}

function rowLines(row: TriageSummary, width: number): string[] {
  const problem = row.problem ? wrap(showControls(row.problem.message), width - 4) : [];
  return [
    `  ${fit(nameOf(row), width - 2).trimEnd()}`,
    ...factLines(row, width),
    ...problem.map((line) => INDENT + line),
    ...row.urgency.reasons.flatMap((reason) =>
      wrap(`! ${reason}`, width - INDENT.length, "  ").map((line) => INDENT + line),
    ),
    ...toDoLines(toDoWords(row), width),
  ];
}

/**
 * The list as a support desk reads it: what presses most on top, of each recording the verdict, the sound,
 * the likeliest parts and what to do. How to record is told once, at the end. Instructions longer than seven
 * lines are cut; CSV, JSON and HTML hold them whole.
 */
export function triageText(
  rows: readonly TriageSummary[],
  { width = 100, color = false }: TriageTextOptions = {},
): string {
  const bold = (text: string): string => (color ? `\u001b[1m${text}\u001b[22m` : text);
  const noun = rows.length === 1 ? "recording" : "recordings";
  const lines = [
    ...wrap(`${rows.length} ${noun}: ${countWords(rows)}`, width),
    ...triageGroups(rows).flatMap((group) => [
      "",
      bold(`${group.title} (${group.rows.length})`),
      ...group.rows.flatMap((row) => rowLines(row, width)),
    ]),
  ];
  const cautions = recordingCautions(rows);
  if (cautions !== null) lines.push("", ...wrap(cautions, width));
  return `${lines.join("\n")}\n`;
}
