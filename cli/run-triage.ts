import { existsSync } from "node:fs";
import {
  checkPagesPlace,
  findRecordings,
  inShard,
  matchIntake,
  mergeRowFiles,
  openWorkFile,
  readIntake,
  runTriage,
  showControls,
  triageCsv,
  triageText,
  WasherNoiseError,
  writePages,
  type InboxFile,
  type IntakeSheet,
  type RowList,
  type TriageOptions,
  type TriageRun,
} from "../src/index.js";
import { limitsOf } from "./limit-options.js";
import { complaint } from "./run-diagnose.js";
import type { TriageCommandOptions } from "./triage-options.js";
import type { TriageMeter } from "./triage-progress.js";
import { workPathFor } from "./triage-work-path.js";

export interface TriageSurroundings {
  readonly out: (text: string) => Promise<void>;
  readonly err: (text: string) => void;
  readonly meter: TriageMeter;
  readonly signal: AbortSignal;
  readonly color: boolean;
  readonly width: number;
}

const tell = ({ err }: TriageSurroundings, text: string): void => {
  err(`washer-noise: ${showControls(text)}\n`);
};

async function print(
  list: RowList,
  { json, csv }: TriageCommandOptions,
  { out, width, color }: TriageSurroundings,
): Promise<void> {
  if (json) {
    for await (const row of list.rows()) await out(`${JSON.stringify(row)}\n`);
  } else if (csv) {
    for (const line of triageCsv(list.summaries())) await out(line);
  } else {
    await out(triageText(list.summaries(), { width, color }));
  }
}

/** Where pages go, when they are asked for. */
const pagesOf = ({ html, audio }: TriageCommandOptions) =>
  html === undefined ? undefined : { list: html, audio };

/** Writes the pages. The list is out already: a fault is told, not thrown. */
async function writeHtml(
  list: RowList,
  options: TriageCommandOptions,
  surroundings: TriageSurroundings,
): Promise<boolean> {
  const pages = pagesOf(options);
  if (pages === undefined) return true;
  try {
    await writePages(list, pages);
    return true;
  } catch (error) {
    tell(surroundings, complaint(error));
    return false;
  }
}

/** Prints the list and returns the exit code; `clean`: all input could be used so far. */
async function finish(
  list: RowList,
  clean: boolean,
  options: TriageCommandOptions,
  surroundings: TriageSurroundings,
): Promise<number> {
  await print(list, options, surroundings);
  const written = await writeHtml(list, options, surroundings);
  const failed = list.summaries().filter((row) => row.verdict === "failure").length;
  if (list.size === failed) return 2;
  return clean && written && failed === 0 ? 0 : 1;
}

async function merge(
  paths: readonly string[],
  options: TriageCommandOptions,
  surroundings: TriageSurroundings,
): Promise<number> {
  const { list, bad } = await mergeRowFiles(paths);
  for (const line of bad) tell(surroundings, line);
  if (list.size > 0) return finish(list, bad.length === 0, options, surroundings);
  tell(surroundings, "no rows were found. Name files written by `washer-noise triage`.");
  return 2;
}

/** The sheet, with everything in it that could not be used told on stderr. */
async function intakeFor(
  files: readonly InboxFile[],
  { intake }: TriageCommandOptions,
  surroundings: TriageSurroundings,
): Promise<{ sheet: IntakeSheet | undefined; clean: boolean }> {
  if (intake === undefined) return { sheet: undefined, clean: true };
  const sheet = await readIntake(intake);
  const { rowOf, complaints } = matchIntake(files, sheet);
  const all = [...sheet.complaints, ...complaints];
  for (const line of all) tell(surroundings, line);
  // By full path from here on: a shard must not take a bare name for its own that the whole list has twice.
  const rows = [...rowOf].map(([file, row]) => ({ ...row, file }));
  return { sheet: { ...sheet, rows }, clean: all.length === 0 };
}

const triageOptions = (
  options: TriageCommandOptions,
  intake: IntakeSheet | undefined,
  signal: AbortSignal,
): TriageOptions => ({
  machine: options.machine,
  phase: options.phase,
  drumRpm: options.drumRpm,
  motorRpm: options.motorRpm,
  lineHz: options.lineHz,
  ageYears: options.age,
  workers: options.workers,
  secondsPerClip: options.clipSeconds,
  pages: pagesOf(options),
  ...limitsOf(options),
  intake,
  signal,
});

/** What the rows kept on disk were good for. */
function tellKept(
  { stopped, before, now, all }: TriageRun,
  path: string,
  to: TriageSurroundings,
): void {
  if (stopped) {
    const done = `stopped with ${before + now} of ${all} done`;
    tell(to, `${done}, kept in ${path}. The same command goes on from there.`);
  } else if (before > 0) {
    tell(to, `${before} of ${all} were known from ${path} and not listened to again.`);
  }
}

async function listen(
  files: readonly InboxFile[],
  options: TriageCommandOptions,
  { sheet, path }: { readonly sheet: IntakeSheet | undefined; readonly path: string },
  surroundings: TriageSurroundings,
): Promise<TriageRun> {
  const { meter, signal } = surroundings;
  const work = await openWorkFile(path);
  if (options.work === undefined) {
    tell(surroundings, `rows are kept in ${path}; the same command goes on from there.`);
  }
  if (work.badLines > 0) {
    tell(surroundings, `${work.path}: ${work.badLines} cut-off or foreign line(s) passed over.`);
  }
  try {
    const run = await runTriage(files, triageOptions(options, sheet, signal), work, (progress) => {
      meter.say(progress);
    });
    meter.done();
    tellKept(run, path, surroundings);
    return run;
  } finally {
    meter.done();
    work.close();
  }
}

/** Runs `triage` and returns the exit code. */
export async function runTriageCommand(
  paths: readonly string[],
  options: TriageCommandOptions,
  surroundings: TriageSurroundings,
): Promise<number> {
  await checkPagesPlace(options.html);
  if (options.merge) return merge(paths, options, surroundings);
  if (!paths.some(existsSync)) {
    throw new WasherNoiseError(
      "usage",
      `No file or folder is at ${paths.join(", ")}. Check the path.`,
    );
  }
  const all = await findRecordings(paths);
  if (all.length === 0) {
    throw new WasherNoiseError("usage", `No recordings were found in ${paths.join(", ")}.`);
  }
  // The whole list is matched, so that another shard's rows are not called missing.
  const { sheet, clean } = await intakeFor(all, options, surroundings);
  const { shard } = options;
  const files = shard ? all.filter((file) => inShard(file, shard)) : all;
  const path = workPathFor(paths, options);
  const run = await listen(files, options, { sheet, path }, surroundings);
  if (run.stopped) return run.before + run.now > 0 ? 1 : 2;
  // A shard may be empty where there are few recordings; that is no fault of the machine it runs on.
  if (files.length === 0) return clean ? 0 : 1;
  return finish(run.list, clean, options, surroundings);
}
