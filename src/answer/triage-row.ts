import type { Answer } from "./answer.js";
import type { ComplaintFact } from "../diagnosis/data/complaint.data.js";
import type { Action } from "../inspection/urgency/urgency-action.js";
import type { Urgency } from "../inspection/urgency/urgency.js";

/** What triage adds to an answer or a failure. */
export interface TriageNote {
  /** Customer or ticket, as the intake sheet names it; null where it does not. */
  readonly ticket: string | null;
  readonly urgency: Urgency;
  readonly action: Action;
  /** Facts taken from the intake sheet, in the words of `docs/triage.md`. */
  readonly told: readonly ComplaintFact[];
  /** Columns of the intake sheet that the program does not know, as they stand there. */
  readonly other: Readonly<Record<string, string>>;
  /** Content hash and option set; rows with the same key hold the same answer. Null: not readable. */
  readonly key: string | null;
}

/** A recording that cannot be used. */
export interface Failure {
  readonly schema: "washer-noise/failure@1";
  readonly file: string;
  readonly problem: { readonly code: string; readonly message: string };
}

/** One line of `triage --json`: an answer or a failure, with what to do about it. */
export type TriageRow = (Answer | Failure) & { readonly triage: TriageNote };

export type FailedRow = Failure & { readonly triage: TriageNote };

export const isFailedRow = (row: TriageRow): row is FailedRow =>
  row.schema === "washer-noise/failure@1";

/** The file a row is about. */
export const fileOf = (row: TriageRow): string =>
  isFailedRow(row) ? row.file : (row as Answer).recordings[0]!.file;
