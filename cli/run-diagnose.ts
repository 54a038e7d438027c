import {
  checkReportPlace,
  diagnoseRecordings,
  diagnosisReport,
  diagnosisText,
  encodeClips,
  figuresText,
  jobWithDiagnosis,
  loadClip,
  loadWasher,
  openJobToUpdate,
  PHASES,
  showControls,
  WasherNoiseError,
  writeJobFile,
  writeReport,
  type ClipToDiagnose,
  type Answer,
  type DiagnosedRecordings,
  type DiagnoseOptions,
  type JobToUpdate,
  type Phase,
  type Washer,
} from "../src/index.js";
import type { HtmlOptions, LimitOptions, MachineOptions } from "./checked-options.js";
import { limitsOf } from "./limit-options.js";
import { speedQuestion } from "./speed-question.js";
import type { Progress } from "./terminal.js";

export interface Surroundings {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  readonly now: () => Date;
  readonly progress: Progress;
  readonly color: boolean;
  readonly width: number;
}

/** `spin.m4a=spin` is a file and its phase; a real file of that very name wins by having no phase. */
function splitClip(argument: string, phase: Phase): { path: string; phase: Phase } {
  const match = /^(.+)=([a-z-]+)$/.exec(argument);
  const told = PHASES.find((known) => known === match?.[2]);
  return match && told ? { path: match[1]!, phase: told } : { path: argument, phase };
}

/** Where a file is missing because what follows its `=` is no phase. */
function phaseHint(path: string, error: unknown): string {
  const word = /=([a-z-]+)$/i.exec(path)?.[1];
  if (word === undefined || (error as WasherNoiseError).facts?.["code"] !== "ENOENT") return "";
  return ` As NAME=PHASE: "${word}" is no phase; phases are ${PHASES.join(", ")}.`;
}

/** One line for a person: what is wrong with which file. */
export function complaint(error: unknown): string {
  if (error instanceof WasherNoiseError) return error.message;
  return error instanceof Error ? error.message : String(error);
}

/** One recording says what it says once: heard twice, it would seem to be two witnesses. */
function sameWords(file: string, first: ClipToDiagnose, phase: Phase): string {
  const told = phase === first.phase ? "" : `, as ${first.phase}`;
  return `${showControls(file)} is the same recording as ${showControls(first.file)}; it counts once${told}.`;
}

async function loadAll(
  clips: readonly string[],
  options: RunOptions,
  surroundings: Surroundings,
): Promise<{ loaded: ClipToDiagnose[]; failed: number }> {
  const loaded: ClipToDiagnose[] = [];
  let failed = 0;
  for (const argument of clips) {
    const clip = splitClip(argument, options.phase);
    surroundings.progress.say(`Reading ${clip.path} ...`);
    try {
      const read = await loadClip(clip.path, limitsOf(options));
      const same = loaded.find(({ sha256 }) => sha256 === read.sha256);
      if (same === undefined) loaded.push({ ...read, phase: clip.phase });
      else surroundings.err(`washer-noise: ${sameWords(read.file, same, clip.phase)}\n`);
    } catch (error) {
      surroundings.err(`washer-noise: ${complaint(error)}${phaseHint(clip.path, error)}\n`);
      failed++;
    }
  }
  return { loaded, failed };
}

/** Writes the report. The answer is out already: a fault is told, not thrown. */
async function writeHtml(
  { answer, figures, pictures }: DiagnosedRecordings,
  { html, audio }: HtmlOptions,
  owner: string | undefined,
  { err }: Surroundings,
): Promise<boolean> {
  if (html === undefined || pictures === undefined) return true;
  const clips = audio ? { clips: await encodeClips(pictures) } : {};
  const told = owner === undefined ? {} : { complaint: owner };
  try {
    await writeReport(
      html,
      await diagnosisReport({ answer, figures, pictures, ...clips, ...told }),
    );
    return true;
  } catch (error) {
    err(`washer-noise: ${complaint(error)}\n`);
    return false;
  }
}

interface MachineFacts {
  readonly washer: Washer;
  readonly machineGiven: boolean;
  readonly age: number | undefined;
  readonly lineHz: 50 | 60 | undefined;
}

async function factsOf(options: MachineOptions): Promise<MachineFacts> {
  const { machine, age, lineHz } = options;
  return { washer: await loadWasher(machine), machineGiven: machine !== undefined, age, lineHz };
}

/** Keeps the diagnosis in the job. The answer is out already: a fault is told, not thrown. */
async function keepInJob(
  job: JobToUpdate,
  answer: Answer,
  { now, err }: Surroundings,
): Promise<boolean> {
  try {
    const kept = jobWithDiagnosis(job, answer, now().toISOString());
    await writeJobFile(job.opened, kept);
    const heard = new Set(answer.recordings.map((recording) => recording.sha256));
    const others = kept.recordings.filter((recording) => !heard.has(recording.sha256));
    if (others.length > 0) {
      const names = others.map((recording) => recording.file).join(", ");
      err(
        `washer-noise: the job's other recordings (${showControls(names)}) were not listened to now; ` +
          "name them too for one answer from all.\n",
      );
    }
    return true;
  } catch (error) {
    err(`washer-noise: ${complaint(error)}\n`);
    return false;
  }
}

function print(
  { answer, figures }: DiagnosedRecordings,
  { json, verbose }: RunOptions,
  { out, width, color }: Surroundings,
): void {
  if (json) out(`${JSON.stringify(answer)}\n`);
  else out(diagnosisText(answer, { width, color }));
  if (verbose && !json) out(`\n${figuresText(figures)}`);
}

type RunOptions = MachineOptions &
  HtmlOptions &
  LimitOptions & {
    readonly job?: string | undefined;
    readonly verbose: boolean;
  };

function toDiagnose(
  { drumRpm, motorRpm, html, audio }: RunOptions,
  { washer, machineGiven, age, lineHz }: MachineFacts,
): DiagnoseOptions {
  return {
    washer,
    machineGiven,
    ...(drumRpm === undefined ? {} : { drumRpm }),
    ...(motorRpm === undefined ? {} : { motorRpm }),
    ...(lineHz === undefined ? {} : { lineHz }),
    ...(age === undefined ? {} : { ageYears: age }),
    ...(html === undefined ? {} : { pictures: audio ? "with-clips" : "silent" }),
  };
}

/** Runs `diagnose` and returns the exit code. */
export async function runDiagnose(
  clips: readonly string[],
  options: RunOptions,
  surroundings: Surroundings,
): Promise<number> {
  const { progress } = surroundings;
  await checkReportPlace(options.html);
  const job = options.job === undefined ? null : await openJobToUpdate(options.job, options);
  const facts = job ?? (await factsOf(options));
  const { loaded, failed } = await loadAll(clips, options, surroundings);
  if (loaded.length === 0) {
    progress.done();
    return 2;
  }
  const odd = speedQuestion(options, facts.washer);
  if (odd !== null) surroundings.err(`washer-noise: ${odd}\n`);
  const diagnosed = diagnoseRecordings(loaded, {
    ...toDiagnose(options, facts),
    onStep: (text) => {
      progress.say(text);
    },
  });
  progress.done();
  print(diagnosed, options, surroundings);
  const kept = job === null || (await keepInJob(job, diagnosed.answer, surroundings));
  const owner = job?.opened.job.complaint?.text;
  const written = await writeHtml(diagnosed, options, owner, surroundings);
  return failed > 0 || !kept || !written ? 1 : 0;
}
