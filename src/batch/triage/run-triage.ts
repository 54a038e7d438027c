import { WasherNoiseError } from "../../foundation/errors.js";
import type { ClipTask } from "./clip-task.js";
import type { InboxFile } from "./inbox.js";
import { RowList } from "./row-list.js";
import { triage, type TriageOptions } from "./triage.js";
import type { WorkFile } from "./work-file.js";

/** How far a run is. */
export interface TriageProgress {
  readonly all: number;
  /** Finished in earlier runs. */
  readonly before: number;
  /** Finished in this run. */
  readonly now: number;
}

export interface TriageRun extends TriageProgress {
  readonly list: RowList;
  /** The signal came before all was done. */
  readonly stopped: boolean;
}

/**
 * Listens to what the work file does not hold yet; every row is on disk before the next is begun.
 * Ends early, without throwing, when the signal comes. Throws as `triage` and the work file do.
 */
export async function runTriage(
  files: readonly InboxFile[],
  options: Omit<TriageOptions, "skip">,
  work: WorkFile,
  onProgress: (progress: TriageProgress) => void = () => undefined,
): Promise<TriageRun> {
  const list = new RowList();
  let before = 0;
  let now = 0;
  const skip = (task: ClipTask): boolean => {
    const known = task.key === null ? undefined : work.finished.get(task.key);
    if (!known) return false;
    list.add(known.summary, known.place, task);
    before++;
    return true;
  };
  let stopped = false;
  try {
    onProgress({ all: files.length, before, now });
    for await (const row of triage(files, { ...options, skip })) {
      const { summary, place } = work.append(row);
      list.add(summary, place);
      now++;
      onProgress({ all: files.length, before, now });
    }
  } catch (error) {
    if (!(error instanceof WasherNoiseError && error.code === "cancelled")) throw error;
    stopped = true;
  }
  return { all: files.length, before, now, list, stopped };
}
