import { open, type FileHandle } from "node:fs/promises";
import type { Answer } from "../../answer/answer.js";
import { isFailedRow, type TriageRow } from "../../answer/triage-row.js";
import { summaryOf, worstFirst, type TriageSummary } from "../../answer/triage-summary.js";
import { rowLines } from "./row-lines.js";

/** Where a whole row lies. */
export interface RowPlace {
  readonly path: string;
  readonly start: number;
  readonly length: number;
}

/** Who a row is about in this run; the answer behind it may have been found under another name. */
export interface RowName {
  readonly file: string;
  readonly ticket: string | null;
  readonly other: Readonly<Record<string, string>>;
}

interface Entry {
  readonly summary: TriageSummary;
  readonly place: RowPlace;
}

const renamedSummary = (summary: TriageSummary, name: RowName): TriageSummary => ({
  ...summary,
  ...name,
});

function renamed(row: TriageRow, { file, ticket, other }: RowName): TriageRow {
  const triage = { ...row.triage, ticket, other };
  if (isFailedRow(row)) return { ...row, file, triage };
  const answer = row as Answer;
  const recordings = answer.recordings.map((recording) => ({ ...recording, file }));
  return { ...answer, recordings, triage };
}

/**
 * The rows of a run, worst first. Holds a summary and a place of each; whole rows are read back from their
 * files one at a time, so that memory does not grow with the length of answers.
 */
export class RowList {
  readonly #entries = new Map<string, Entry>();

  get size(): number {
    return this.#entries.size;
  }

  /** Adds a row; a later row of the same file takes the place of the earlier. */
  add(summary: TriageSummary, place: RowPlace, name: RowName = summary): void {
    const { file, ticket, other } = name;
    const own = renamedSummary(summary, { file, ticket, other });
    this.#entries.set(file, { summary: own, place });
  }

  #sorted(): Entry[] {
    return [...this.#entries.values()].sort((a, b) => worstFirst(a.summary, b.summary));
  }

  summaries(): TriageSummary[] {
    return this.#sorted().map((entry) => entry.summary);
  }

  /** Whole rows, worst first. */
  async *rows(): AsyncGenerator<TriageRow> {
    const handles = new Map<string, FileHandle>();
    try {
      for (const { summary, place } of this.#sorted()) {
        const handle = handles.get(place.path) ?? (await open(place.path, "r"));
        handles.set(place.path, handle);
        const bytes = Buffer.alloc(place.length);
        await handle.read(bytes, 0, place.length, place.start);
        yield renamed(JSON.parse(bytes.toString("utf8")) as TriageRow, summary);
      }
    } finally {
      for (const handle of handles.values()) await handle.close();
    }
  }
}

/**
 * The rows of several files in one list, such as the shards of several machines; the last row of a file
 * name counts. `bad` names lines that are no rows. Throws `file-unreadable`.
 */
export async function mergeRowFiles(
  paths: readonly string[],
): Promise<{ readonly list: RowList; readonly bad: readonly string[] }> {
  const list = new RowList();
  const bad: string[] = [];
  for (const path of paths) {
    for await (const { row, start, length } of rowLines(path)) {
      if (row) list.add(summaryOf(row), { path, start, length });
      else bad.push(`${path}: the line at byte ${start} is no row and was left out.`);
    }
  }
  return { list, bad };
}
