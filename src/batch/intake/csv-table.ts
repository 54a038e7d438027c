import { CsvError, parse } from "csv-parse/sync";
import { WasherNoiseError } from "../../foundation/errors.js";

/** A table as it stands in a sheet; `line` is the sheet's row number, the heading being row 1. */
export interface CsvTable {
  readonly headings: readonly string[];
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[];
}

/** Text of a sheet: UTF-8 or UTF-16 with their marks, else the Windows code page sheets are saved in. */
function decodeSheet(bytes: Uint8Array): string {
  const [first, second] = bytes;
  if (first === 0xff && second === 0xfe) return new TextDecoder("utf-16le").decode(bytes);
  if (first === 0xfe && second === 0xff) return new TextDecoder("utf-16be").decode(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}

/** The sign between cells: the one that the first line holds most of. */
function delimiterOf(text: string): string {
  const heading = text.slice(0, text.search(/\r|\n|$/)).replace(/"[^"]*"/g, "");
  const count = (sign: string): number => heading.split(sign).length;
  return [",", ";", "\t"].reduce((best, sign) => (count(sign) > count(best) ? sign : best));
}

const invalid = (name: string, reason: string): WasherNoiseError =>
  new WasherNoiseError("intake-invalid", `Intake sheet ${name}: ${reason}`, { file: name });

/**
 * Reads a sheet saved as CSV (RFC 4180; commas, semicolons or tabs). Throws `intake-invalid` where it is
 * no table.
 */
export function readCsv(bytes: Uint8Array, name: string): CsvTable {
  const text = decodeSheet(bytes);
  let records: string[][];
  try {
    records = parse(text, {
      bom: true,
      delimiter: delimiterOf(text),
      relax_column_count: true,
      skip_empty_lines: false,
      trim: true,
    });
  } catch (error) {
    const where =
      error instanceof CsvError ? ` (${error.code}, line ${String(error["lines"])})` : "";
    throw invalid(name, `it is no CSV table${where}. Save the sheet as CSV and check its quotes.`);
  }
  const [headings, ...rest] = records;
  if (!headings)
    throw invalid(name, "it is empty. It must have a heading row with a column `file`.");
  const rows = rest
    .map((cells, i) => ({ line: i + 2, cells }))
    .filter(({ cells }) => cells.some((cell) => cell !== ""));
  return { headings, rows };
}
