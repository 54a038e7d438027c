import { WasherNoiseError } from "../../foundation/errors.js";
import type { HandTest } from "../checks/hand-test.js";
import { handTestNamed, NOT_DONE, outcomeNamed } from "../checks/hand-tests.js";
import type { KnownFinding } from "../checks/weigh-findings.js";
import type { Job, JobFinding } from "../job/job.js";
import { jobFileError } from "../job/parse-job.js";

/** A finding of the job with the table's words for it. */
export interface ReadFinding {
  readonly finding: JobFinding;
  readonly test: HandTest;
  /** Null when the test could not be done. */
  readonly known: KnownFinding | null;
  /** A later finding of the same test has taken its place. */
  readonly replaced: boolean;
}

function readFinding(finding: JobFinding, index: number): Omit<ReadFinding, "replaced"> {
  try {
    const test = handTestNamed(finding.check);
    const outcome = outcomeNamed(test, finding.outcome);
    return { finding, test, known: outcome && { test, outcome } };
  } catch (error) {
    if (!(error instanceof WasherNoiseError)) throw error;
    throw jobFileError("of this machine", `findings[${index}]: ${error.message}`, {
      field: `findings[${index}]`,
    });
  }
}

/**
 * The job's findings in order; of several of one test the last counts. Throws `job-file-invalid` for a
 * check or outcome that the table does not have.
 */
export function readFindings(job: Job): ReadFinding[] {
  const rows = job.findings.map(readFinding);
  return rows.map((row, i) => ({
    ...row,
    replaced: rows.slice(i + 1).some((later) => later.test === row.test),
  }));
}

/** The findings that count. */
export const countedFindings = (rows: readonly ReadFinding[]): KnownFinding[] =>
  rows.filter((row) => !row.replaced && row.known).map((row) => row.known!);

/**
 * The job with one more finding, told as `CHECK=OUTCOME` or `CHECK=OUTCOME:note`, at the time `at`.
 * Throws `usage`, listing what exists, for an unknown check or outcome. `known` narrows that list.
 */
export function addFinding(job: Job, told: string, at: string, known?: readonly HandTest[]): Job {
  const match = /^([^=:]+)=([^=:]+)(?::(.+))?$/s.exec(told.trim());
  if (!match) {
    throw new WasherNoiseError(
      "usage",
      `--found must be CHECK=OUTCOME, such as drum-rock=fail, received ${JSON.stringify(told)}.`,
      { received: told },
    );
  }
  const [, check, outcome, note] = match as unknown as [string, string, string, string?];
  const test = handTestNamed(check.trim().toLowerCase(), known);
  const found = outcomeNamed(test, outcome.trim().toLowerCase());
  const finding: JobFinding = {
    check: test.check,
    outcome: found?.outcome ?? NOT_DONE,
    at,
    ...(note?.trim() ? { note: note.trim() } : {}),
  };
  return { ...job, findings: [...job.findings, finding] };
}

/** The job without its last finding. Throws `usage` when there is none. */
export function undoFinding(job: Job): { readonly job: Job; readonly undone: JobFinding } {
  const undone = job.findings.at(-1);
  if (!undone) {
    throw new WasherNoiseError("usage", "--undo needs a finding to take back; the job has none.");
  }
  return { job: { ...job, findings: job.findings.slice(0, -1) }, undone };
}
