import { readFile, stat } from "node:fs/promises";
import { WasherNoiseError } from "../../foundation/errors.js";
import { readCsv, type CsvTable } from "./csv-table.js";
import { readFault } from "../read-fault.js";
import { codeOf } from "../write-fault.js";
import { INTAKE_CELLS, type IntakeFacts } from "./intake-cells.js";
import { INTAKE_COLUMNS, type IntakeColumnName } from "./intake-columns.data.js";

/** One customer's row. */
export interface IntakeRow {
  /** Row of the sheet, the heading being row 1. */
  readonly line: number;
  readonly file: string;
  readonly facts: IntakeFacts;
  /** Cells of columns that the program does not know, by heading. */
  readonly other: Readonly<Record<string, string>>;
}

export interface IntakeSheet {
  readonly rows: readonly IntakeRow[];
  /** Headings that the program does not know, in order. */
  readonly otherColumns: readonly string[];
  /** Cells that could not be used, each by row and column; they count as not told. */
  readonly complaints: readonly string[];
}

const invalid = (name: string, reason: string): WasherNoiseError =>
  new WasherNoiseError("intake-invalid", `Intake sheet ${name}: ${reason}`, { file: name });

const plain = (heading: string): string =>
  heading
    .trim()
    .toLowerCase()
    .replace(/[\s-]+/g, "_");

function columnOf(heading: string): IntakeColumnName | null {
  const word = plain(heading);
  const known = INTAKE_COLUMNS.find(
    ({ column, also }) => column === word || (also as readonly string[]).includes(word),
  );
  return known?.column ?? null;
}

type Column = { readonly heading: string; readonly known: IntakeColumnName | null };

function columnsOf({ headings }: CsvTable, name: string): Column[] {
  const columns = headings.map((heading, i) => ({
    heading: heading || `column ${i + 1}`,
    known: columnOf(heading),
  }));
  const names = columns.map(({ heading, known }) => known ?? heading);
  const twice = names.find((one, i) => names.indexOf(one) !== i);
  if (twice !== undefined) {
    throw invalid(name, `two columns mean ${JSON.stringify(twice)}. Keep one of them.`);
  }
  if (!names.includes("file")) {
    throw invalid(
      name,
      `it has no column \`file\` (found: ${headings.join(", ")}). Add one with the name of each recording.`,
    );
  }
  return columns;
}

function readRow(
  { line, cells }: CsvTable["rows"][number],
  columns: readonly Column[],
  complain: (column: string, reason: string) => void,
): IntakeRow {
  const facts: Record<string, unknown> = {};
  const other: Record<string, string> = {};
  for (const [i, { heading, known }] of columns.entries()) {
    const text = cells[i] ?? "";
    if (known === null) other[heading] = text;
    if (known === null || text === "") continue;
    const read = INTAKE_CELLS[known].safeParse(text);
    if (read.success) facts[known] = read.data;
    else complain(heading, `${read.error.issues[0]!.message}, received ${JSON.stringify(text)}`);
  }
  if (cells.length > columns.length) {
    complain(
      `${columns.length + 1}`,
      "the row has more cells than the heading; the rest is left out",
    );
  }
  return { line, file: (facts["file"] as string | undefined) ?? "", facts, other };
}

/**
 * Reads an intake sheet: one row a recording, columns as `INTAKE_COLUMNS`.
 *
 * A wrong cell is named by row and column in `complaints` and counts as not told. Throws
 * `intake-invalid` where the whole cannot be used: no table, no column `file`, a column twice.
 */
export function parseIntake(bytes: Uint8Array, name: string): IntakeSheet {
  const table = readCsv(bytes, name);
  const columns = columnsOf(table, name);
  const complaints: string[] = [];
  const rows: IntakeRow[] = [];
  const seen = new Map<string, number>();
  for (const record of table.rows) {
    const at = `Intake sheet ${name}, row ${record.line}`;
    const row = readRow(record, columns, (column, reason) => {
      complaints.push(`${at}, column ${column}: ${reason}.`);
    });
    const before = seen.get(row.file);
    if (row.file === "") complaints.push(`${at}, column file: must not be empty; row left out.`);
    else if (before !== undefined) {
      complaints.push(`${at}, column file: ${row.file} stands in row ${before} too; row left out.`);
    } else {
      seen.set(row.file, record.line);
      rows.push(row);
    }
  }
  const otherColumns = columns.filter(({ known }) => known === null).map(({ heading }) => heading);
  return { rows, otherColumns, complaints };
}

/** A hundred thousand customers take some 20 MB; anything this large is something else. */
const MOST_BYTES = 64 * 1024 * 1024;

/** Reads an intake sheet from a file. Throws `file-unreadable` and as `parseIntake`. */
export async function readIntake(path: string): Promise<IntakeSheet> {
  let bytes: Uint8Array;
  try {
    if ((await stat(path)).size > MOST_BYTES) {
      throw invalid(path, "it must be at most 64 MB. Name the sheet that was saved as CSV.");
    }
    bytes = await readFile(path);
  } catch (error) {
    if (error instanceof WasherNoiseError) throw error;
    throw new WasherNoiseError(
      "file-unreadable",
      `Intake sheet ${path} cannot be read: ${readFault(error)}.`,
      { file: path, code: codeOf(error) },
    );
  }
  return parseIntake(bytes, path);
}
