import { roundedChance } from "../../foundation/chance-words.js";
import type { TriageSummary } from "../../answer/triage-summary.js";
import { csvLine } from "../intake/csv-text.js";

type Cell = string | number | null;

const SHOWN_PARTS = 3;

const HEADINGS = [
  "urgency",
  "ticket",
  "file",
  "verdict",
  "character",
  ...Array.from({ length: SHOWN_PARTS }, (_, i) => [
    `component_${i + 1}`,
    `probability_${i + 1}`,
  ]).flat(),
  "action",
  "what_to_do",
  "parts_to_bring",
  "urgent_because",
  "phase",
  "machine",
  "problem_code",
  "problem",
  "sha256",
];

function cellsOf(row: TriageSummary): Cell[] {
  const parts = Array.from({ length: SHOWN_PARTS }, (_, i): Cell[] => {
    const part = row.parts[i];
    return part ? [part.component, roundedChance(part.probability, 4)] : [null, null];
  }).flat();
  return [
    row.urgency.label,
    row.ticket,
    row.file,
    row.verdict,
    row.character,
    ...parts,
    row.action.label,
    row.action.text,
    row.action.parts.join("; "),
    row.urgency.reasons.join("; "),
    row.phase,
    row.machine,
    row.problem?.code ?? null,
    row.problem?.message ?? null,
    row.sha256,
  ];
}

/** Unknown columns of the sheet behind ours; a heading that is one of ours gets a mark. */
function otherColumns(rows: readonly TriageSummary[]): string[] {
  return [...new Set(rows.flatMap((row) => Object.keys(row.other)))];
}

/** The list as CSV (RFC 4180), line by line. Columns that the program does not know come last, as they were. */
export function* triageCsv(rows: readonly TriageSummary[]): Generator<string> {
  const others = otherColumns(rows);
  yield csvLine([
    ...HEADINGS,
    ...others.map((heading) => (HEADINGS.includes(heading) ? `intake_${heading}` : heading)),
  ]);
  for (const row of rows) {
    yield csvLine([...cellsOf(row), ...others.map((heading) => row.other[heading] ?? null)]);
  }
}
