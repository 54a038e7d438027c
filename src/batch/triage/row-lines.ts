import { createReadStream } from "node:fs";
import { WasherNoiseError } from "../../foundation/errors.js";
import type { TriageRow } from "../../answer/triage-row.js";
import { readFault } from "../read-fault.js";

/** One line of a file of rows and where it stands. */
export interface RowLine {
  readonly row: TriageRow;
  readonly start: number;
  /** Bytes, without the line's end. */
  readonly length: number;
}

/** A line that is no row: cut off by a kill, or no file of ours. */
export interface BadLine {
  readonly row: null;
  readonly start: number;
  readonly length: number;
  /** The beginning of a row at the end of the file: what a killed writer leaves. */
  readonly torn: boolean;
}

const NEWLINE = 10;
const BEGINNING = Buffer.from('{"schema":"washer-noise/');
/** An answer takes tens of kilobytes; a line this long is something else. */
const LONGEST_BYTES = 64 * 1024 * 1024;

function isRow(value: unknown): value is TriageRow {
  if (typeof value !== "object" || value === null || !("schema" in value)) return false;
  if (!("triage" in value) || typeof value.triage !== "object") return false;
  return value.schema === "washer-noise/failure@1" || value.schema === "washer-noise/diagnosis@1";
}

function readLine(bytes: Buffer): TriageRow | null {
  try {
    const value: unknown = JSON.parse(bytes.toString("utf8"));
    return isRow(value) ? value : null;
  } catch {
    return null;
  }
}

/** A stranger's file must not be taken for a cut-off row of ours. */
function beginsLikeRow(bytes: Buffer): boolean {
  const length = Math.min(bytes.length, BEGINNING.length);
  return bytes.subarray(0, length).equals(BEGINNING.subarray(0, length));
}

function lineAt(bytes: Buffer, start: number, ended: boolean): RowLine | BadLine | null {
  if (bytes.toString("utf8").trim() === "") return null;
  const row = readLine(bytes);
  if (row) return { row, start, length: bytes.length };
  return { row: null, start, length: bytes.length, torn: !ended && beginsLikeRow(bytes) };
}

/**
 * The rows of an NDJSON file, one at a time. What is no row comes as a `BadLine`; blank lines are passed
 * over. Throws `file-unreadable`.
 */
export async function* rowLines(path: string): AsyncGenerator<RowLine | BadLine> {
  let pending: Buffer[] = [];
  let pendingBytes = 0;
  let start = 0;
  const take = (ended: boolean): RowLine | BadLine | null => {
    const bytes = Buffer.concat(pending);
    const line = lineAt(bytes, start, ended);
    start += bytes.length + 1;
    pending = [];
    pendingBytes = 0;
    return line;
  };
  try {
    for await (const chunk of createReadStream(path) as AsyncIterable<Buffer>) {
      let from = 0;
      for (let end; (end = chunk.indexOf(NEWLINE, from)) >= 0; from = end + 1) {
        pending.push(chunk.subarray(from, end));
        const line = take(true);
        if (line) yield line;
      }
      pending.push(chunk.subarray(from));
      pendingBytes += chunk.length - from;
      if (pendingBytes > LONGEST_BYTES)
        throw new Error("it is no file of rows: a line is too long");
    }
  } catch (error) {
    const system = (error as NodeJS.ErrnoException).code !== undefined;
    const why = system ? readFault(error) : (error as Error).message;
    throw new WasherNoiseError("file-unreadable", `File of rows ${path} cannot be read: ${why}.`, {
      file: path,
    });
  }
  const last = take(false);
  if (last) yield last;
}
