import type { Answer, AnsweredRecording } from "../answer/answer.js";
import type { Job, JobRecording } from "../inspection/job/job.js";
import { emptyJob } from "../inspection/job/job.js";
import type { Washer } from "../machine/profile.js";
import { openJobFile, pathForJob, type OpenJob } from "./job-file.js";
import { washerOfJob, withMachine } from "./job-machine.js";
import { loadWasher } from "./load-washer.js";

/** Facts about the machine; what is not told is taken from the job. */
export interface ToldFacts {
  readonly machine?: string | undefined;
  readonly age?: number | undefined;
  readonly lineHz?: 50 | 60 | undefined;
}

/** A job about to take in a diagnosis, and the facts to diagnose with. */
export interface JobToUpdate {
  readonly opened: OpenJob;
  /** The job with everything told. */
  readonly job: Job;
  readonly washer: Washer;
  readonly machineGiven: boolean;
  readonly age: number | undefined;
  readonly lineHz: 50 | 60 | undefined;
}

/**
 * Opens the job, or starts one, before anything is listened to, so that a damaged file is refused at
 * once. Throws as `openJobFile` and `loadWasher`.
 */
export async function openJobToUpdate(path: string, told: ToldFacts): Promise<JobToUpdate> {
  const opened = await openJobFile(path, emptyJob());
  const { machine } = opened.job;
  const age = told.age ?? machine.ageYears;
  const lineHz = told.lineHz ?? machine.lineHz;
  const facts: Job = {
    ...opened.job,
    machine: {
      ...machine,
      ...(age === undefined ? {} : { ageYears: age }),
      ...(lineHz === undefined ? {} : { lineHz }),
    },
  };
  if (told.machine !== undefined) {
    const washer = await loadWasher(told.machine);
    const job = withMachine(path, facts, told.machine, washer);
    return { opened, job, washer, machineGiven: true, age, lineHz };
  }
  const washer = await washerOfJob(path, facts);
  const machineGiven = machine.id !== undefined || machine.file !== undefined;
  return { opened, job: facts, washer, machineGiven, age, lineHz };
}

/** New recordings take the place of those with the same content; the others stay. */
function mergedRecordings(
  path: string,
  old: readonly JobRecording[],
  answered: readonly AnsweredRecording[],
): JobRecording[] {
  const fresh = new Map(
    answered.map((recording): [string, JobRecording] => [
      recording.sha256,
      {
        file: pathForJob(path, recording.file),
        sha256: recording.sha256,
        phase: recording.phase.label,
        durationSeconds: Math.round(1000 * recording.durationSeconds) / 1000,
      },
    ]),
  );
  const kept = old.map((recording) => fresh.get(recording.sha256) ?? recording);
  const known = new Set(kept.map((recording) => recording.sha256));
  return [...kept, ...[...fresh.values()].filter((one) => !known.has(one.sha256))];
}

/** Enough digits for the ranking, few enough to read a change. */
const sixDigits = (probability: number): number => Number(probability.toPrecision(6));

/**
 * The job with the diagnosis taken in: recordings by their content, the ranking and verdict in place of
 * earlier ones; findings, readings and all else stay. `at`: now.
 */
export function jobWithDiagnosis({ opened, job }: JobToUpdate, answer: Answer, at: string): Job {
  return {
    ...job,
    recordings: mergedRecordings(opened.path, job.recordings, answer.recordings),
    diagnosis: {
      at,
      verdict: answer.verdict,
      character: answer.character.label,
      components: answer.components.map(({ component, probability, condition }) => ({
        component,
        probability: sixDigits(probability),
        ...(condition === undefined ? {} : { condition }),
      })),
    },
  };
}
