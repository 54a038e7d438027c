import { createHash } from "node:crypto";
import { availableParallelism } from "node:os";
import { basename } from "node:path";
import { WasherNoiseError, assertRange } from "../../foundation/errors.js";
import type { Phase } from "../../machine/words.js";
import { DECODE_DEFAULTS, resolveDecodeOptions } from "../../recording/decode/decode-options.js";
import { openFileSource, sha256Of } from "../../recording/files/file-source.js";
import type { IntakeSheet } from "../intake/intake-sheet.js";
import { matchIntake } from "../intake/match-intake.js";
import { settingsWith } from "../intake/told-facts.js";
import { loadWasher } from "../load-washer.js";
import type { PagesWanted } from "./clip-page.js";
import type { ClipLimits, ClipSettings, ClipTask } from "./clip-task.js";
import { failedRow } from "./failed-row.js";
import type { InboxFile } from "./inbox.js";
import type { TriageRow } from "../../answer/triage-row.js";
import { isLoss, runPool, type Loss } from "./worker-pool.js";

export interface TriageOptions {
  /** Built-in id or machine file, for recordings whose intake row names none. */
  readonly machine?: string | undefined;
  readonly phase?: Phase | undefined;
  readonly drumRpm?: number | undefined;
  readonly motorRpm?: number | undefined;
  readonly lineHz?: 50 | 60 | undefined;
  readonly ageYears?: number | undefined;
  readonly intake?: IntakeSheet | undefined;
  /** Threads. @defaultValue as many as cores */
  readonly workers?: number | undefined;
  /** Longest time for one recording, in seconds, before it is given up. @defaultValue 120 */
  readonly secondsPerClip?: number | undefined;
  /** Largest file accepted, in bytes. @defaultValue 2 GiB */
  readonly maxBytes?: number | undefined;
  /** Longest recording accepted, in seconds. @defaultValue 4 h */
  readonly maxSeconds?: number | undefined;
  readonly signal?: AbortSignal | undefined;
  /** A page of each recording, with pictures, is written as it is listened to. @defaultValue none */
  readonly pages?: PagesWanted | undefined;
  /** Asked before a recording is listened to; true passes it over. For going on where a run stopped. */
  readonly skip?: ((task: ClipTask) => boolean) | undefined;
}

/** Raised when the same recording told the same things is answered differently than before. */
const ANSWERS = "10";

/** Null where the file cannot be read or is larger than it may be: the thread that opens it says so. */
async function contentHash(path: string, { maxBytes }: ClipLimits): Promise<string | null> {
  try {
    const source = await openFileSource(path);
    try {
      if (source.sizeBytes > (maxBytes ?? DECODE_DEFAULTS.maxBytes)) return null;
      return await sha256Of(source);
    } finally {
      await source.close();
    }
  } catch {
    return null;
  }
}

const hashOf = (value: unknown): string =>
  createHash("sha256").update(JSON.stringify(value)).digest("hex");

/** Content hash and, of everything told, a short hash: the same key, the same answer. */
const keyOf = (sha256: string, settings: ClipSettings, washer: unknown): string =>
  `${sha256}-${hashOf([ANSWERS, settings, washer]).slice(0, 16)}`;

const limitsOf = ({ maxBytes, maxSeconds }: TriageOptions): ClipLimits => ({
  ...(maxBytes === undefined ? {} : { maxBytes }),
  ...(maxSeconds === undefined ? {} : { maxSeconds }),
});

const settingsForAll = (options: TriageOptions): ClipSettings => ({
  machine: options.machine ?? null,
  phase: options.phase ?? "unknown",
  drumRpm: options.drumRpm ?? null,
  motorRpm: options.motorRpm ?? null,
  lineHz: options.lineHz ?? null,
  ageYears: options.ageYears ?? null,
  told: [],
});

const pagesIn = ({ pages }: TriageOptions): PagesWanted | null => pages ?? null;

async function* tasksOf(
  files: readonly InboxFile[],
  options: TriageOptions,
): AsyncGenerator<ClipTask> {
  const rows = options.intake && matchIntake(files, options.intake).rowOf;
  const all = settingsForAll(options);
  const limits = limitsOf(options);
  // A machine file may change under its name, so its content counts.
  const washer = options.machine === undefined ? null : await loadWasher(options.machine);
  for (const file of files) {
    if (options.signal?.aborted) return;
    const row = rows?.get(file.path);
    const settings = row ? settingsWith(row.facts, all) : all;
    const sha256 = await contentHash(file.path, limits);
    const told = settings.machine === options.machine ? washer : null;
    yield {
      file: file.path,
      settings,
      limits,
      ticket: row?.facts.ticket ?? null,
      other: row?.other ?? {},
      key: sha256 === null ? null : keyOf(sha256, settings, told),
      pages: pagesIn(options),
    };
  }
}

async function* withoutSkipped(
  tasks: AsyncIterable<ClipTask>,
  skip: (task: ClipTask) => boolean,
): AsyncGenerator<ClipTask> {
  for await (const task of tasks) if (!skip(task)) yield task;
}

function lossWords(loss: Loss): string {
  if (loss.why === "died") return `the analysis broke off: ${loss.message}`;
  return `the analysis took longer than ${loss.seconds} s and was ended`;
}

/**
 * Listens to many recordings, each of a machine of its own, on threads; yields one row each as they come.
 *
 * A recording that cannot be read, kills its thread or takes too long gives a failure row. Memory
 * holds as many recordings as threads, however many files there are. The order is that of finishing;
 * `worstFirst` sorts.
 *
 * @param files paths, or files with the name by which the intake sheet knows them
 *
 * Throws WasherNoiseError `cancelled` when the signal comes (threads are ended first), `machine-unknown`
 * and `machine-file-invalid` as `loadWasher`, `out-of-range` for the options.
 *
 * @example
 * for await (const row of triage(["a.m4a", "b.m4a"], { signal })) console.log(row.triage.urgency.label);
 */
export async function* triage(
  files: readonly (string | InboxFile)[],
  options: TriageOptions = {},
): AsyncGenerator<TriageRow> {
  const { workers = availableParallelism(), secondsPerClip = 120 } = options;
  assertRange("workers", workers, 1, 256);
  if (!Number.isInteger(workers)) {
    throw new WasherNoiseError(
      "out-of-range",
      `workers must be a whole number, received ${workers}.`,
    );
  }
  assertRange("secondsPerClip", secondsPerClip, 0.1, 86_400);
  resolveDecodeOptions(limitsOf(options));
  const inbox = files.map((file) =>
    typeof file === "string" ? { path: file, name: basename(file) } : file,
  );
  const tasks = withoutSkipped(tasksOf(inbox, options), options.skip ?? (() => false));
  const outcomes = runPool<ClipTask, TriageRow>(tasks, {
    script: new URL("./triage-worker.js", import.meta.url),
    workers: Math.min(workers, Math.max(1, inbox.length)),
    secondsPerTask: secondsPerClip,
    signal: options.signal,
  });
  for await (const { task, result } of outcomes) {
    yield isLoss(result)
      ? failedRow(task, { code: "internal", message: `${task.file}: ${lossWords(result)}.` })
      : result;
  }
}
