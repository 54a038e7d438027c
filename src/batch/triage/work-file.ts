import { closeSync, constants, fstatSync, ftruncateSync, openSync, writeSync } from "node:fs";
import { WasherNoiseError } from "../../foundation/errors.js";
import { codeOf, writeFault } from "../write-fault.js";
import type { TriageRow } from "../../answer/triage-row.js";
import { isFailedRow } from "../../answer/triage-row.js";
import { summaryOf, type TriageSummary } from "../../answer/triage-summary.js";
import { rowLines } from "./row-lines.js";
import type { RowPlace } from "./row-list.js";

export interface FinishedRow {
  readonly summary: TriageSummary;
  readonly place: RowPlace;
}

/** Results kept as they come. */
export interface WorkFile {
  readonly path: string;
  /** Finished rows by key, from earlier runs and this one. */
  readonly finished: ReadonlyMap<string, FinishedRow>;
  /** Lines found that are no rows, such as one cut off by a kill. */
  readonly badLines: number;
  append(row: TriageRow): FinishedRow;
  close(): void;
}

/** Failures that the next run may not meet again: a lost thread, a missing decoder, a limit since raised. */
const PASSING = new Set([
  "internal",
  "format-unsupported",
  "file-unreadable",
  "recording-too-large",
]);

const isFinal = (row: TriageRow): boolean => !isFailedRow(row) || !PASSING.has(row.problem.code);

function unwritable(path: string, error: unknown): WasherNoiseError {
  return new WasherNoiseError(
    "file-unwritable",
    `Work file ${path} cannot be written: ${writeFault(error)}. Whole rows in it stay; --work FILE names another.`,
    { file: path, code: codeOf(error) },
    { cause: error },
  );
}

/** Places of rows are counted from the file's end, so a second writer must not go unnoticed. */
function checkEnd(path: string, descriptor: number, position: number): void {
  if (fstatSync(descriptor).size === position) return;
  throw new WasherNoiseError(
    "file-unwritable",
    `Work file ${path} is being written by another program too. Run one triage at a time on it, or name another with --work FILE.`,
    { file: path },
  );
}

function openToAppend(path: string): number {
  let descriptor: number;
  try {
    descriptor = openSync(path, constants.O_RDWR | constants.O_CREAT | constants.O_APPEND, 0o644);
  } catch (error) {
    throw unwritable(path, error);
  }
  if (fstatSync(descriptor).isFile()) return descriptor;
  closeSync(descriptor);
  throw new WasherNoiseError(
    "usage",
    `${path} is not a plain file, and rows kept there could not be read back. Name another with --work FILE.`,
    { file: path },
  );
}

function writeWhole(path: string, descriptor: number, line: Buffer): void {
  try {
    for (let from = 0; from < line.length;) from += writeSync(descriptor, line, from);
  } catch (error) {
    throw unwritable(path, error);
  }
}

/**
 * Opens the file of results, or starts one. Each row is one line, written in one piece when it comes; a
 * kill at any moment leaves all earlier lines whole and at most one line cut off, which is taken away here.
 *
 * Throws `file-unwritable`, and `usage` where the file holds something else.
 */
export async function openWorkFile(path: string): Promise<WorkFile> {
  const descriptor = openToAppend(path);
  const finished = new Map<string, FinishedRow>();
  let badLines = 0;
  let rows = 0;
  let end = 0;
  for await (const line of rowLines(path)) {
    if (line.row === null) {
      badLines++;
      if (line.torn) {
        end = line.start;
        break;
      }
    } else {
      rows++;
      const { key } = line.row.triage;
      const place = { path, start: line.start, length: line.length };
      if (key !== null && isFinal(line.row))
        finished.set(key, { summary: summaryOf(line.row), place });
    }
    end = line.start + line.length + 1;
  }
  if (badLines > 0 && rows === 0 && end > 0) {
    closeSync(descriptor);
    throw new WasherNoiseError(
      "usage",
      `${path} is there already and holds no rows of triage. Name another file with --work FILE.`,
      { file: path },
    );
  }
  const { size } = fstatSync(descriptor);
  // A last line that is whole but for its end gets one; a torn one goes.
  if (end > size) writeWhole(path, descriptor, Buffer.from("\n"));
  else if (end < size) ftruncateSync(descriptor, end);
  let position = end;
  return {
    path,
    finished,
    badLines,
    append(row) {
      const line = Buffer.from(`${JSON.stringify(row)}\n`);
      checkEnd(path, descriptor, position);
      writeWhole(path, descriptor, line);
      const place = { path, start: position, length: line.length - 1 };
      position += line.length;
      const entry = { summary: summaryOf(row), place };
      if (row.triage.key !== null && isFinal(row)) finished.set(row.triage.key, entry);
      return entry;
    },
    close: () => {
      closeSync(descriptor);
    },
  };
}
