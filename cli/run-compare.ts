import {
  COMPONENTS,
  checkReportPlace,
  compareHeard,
  comparisonPictures,
  comparisonReport,
  comparisonText,
  encodeSounds,
  hearPair,
  loadClip,
  loadWasher,
  readJobFile,
  washerOfJob,
  writeJobFile,
  writeReport,
  type ComparisonAnswer,
  type DiagnoseOptions,
  type Job,
  type PartToCompare,
  type Washer,
} from "../src/index.js";
import type { HtmlOptions, LimitOptions, MachineOptions } from "./checked-options.js";
import { limitsOf } from "./limit-options.js";
import { complaint } from "./run-diagnose.js";
import { speedQuestion } from "./speed-question.js";
import { UsageError } from "./shared-options.js";
import type { Progress } from "./terminal.js";

interface Surroundings {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  readonly progress: Progress;
  readonly width: number;
}

type CompareOptions = MachineOptions &
  HtmlOptions &
  LimitOptions & { readonly job?: string | undefined; readonly part?: string | undefined };

/** The part that was repaired: told, else the likeliest of the job's diagnosis, else left to the sound. */
function partOf(told: string | undefined, job: Job | undefined, washer: Washer): PartToCompare {
  if (told !== undefined) {
    const own = COMPONENTS.filter((part) =>
      washer.profiles.some(({ components }) => components.includes(part)),
    );
    const part = own.find((name) => name === told);
    if (part !== undefined) return { part };
    throw new UsageError(
      `--part must be a part of ${washer.label}, received "${told}". Its parts: ${own.join(", ")}.`,
    );
  }
  const likeliest = job?.diagnosis?.components[0]?.component;
  const faulty = likeliest !== undefined && likeliest !== "normal" && likeliest !== "other";
  return faulty ? { part: likeliest, partFrom: "job" } : {};
}

interface Compared {
  readonly answer: ComparisonAnswer;
  readonly heard: ReturnType<typeof hearPair>;
  readonly told: DiagnoseOptions;
}

/** Writes the report. The answer is out already: a fault is told, not thrown. */
async function writeHtml(
  { answer, heard, told }: Compared,
  { html, audio }: HtmlOptions,
  { err, progress }: Surroundings,
): Promise<boolean> {
  if (html === undefined) return true;
  try {
    progress.say("Preparing the pictures ...");
    const wanted = { ...told, pictures: audio ? "with-clips" : "silent" } as const;
    const pictures = comparisonPictures(heard, wanted);
    const { before, after } = pictures.clips;
    const sounds = audio
      ? { clips: { before: await encodeSounds(before), after: await encodeSounds(after) } }
      : {};
    await writeReport(html, await comparisonReport({ answer, pictures, ...sounds }));
    return true;
  } catch (error) {
    err(`washer-noise: ${complaint(error)}\n`);
    return false;
  } finally {
    progress.done();
  }
}

/** Runs `compare` and returns the exit code; keeps the result in the job file when one is named. */
export async function runCompare(
  before: string,
  after: string,
  options: CompareOptions,
  surroundings: Surroundings,
): Promise<number> {
  const { out, err, progress, width } = surroundings;
  await checkReportPlace(options.html);
  const opened = options.job === undefined ? null : await readJobFile(options.job);
  const { phase, drumRpm, motorRpm, lineHz, age, machine } = options;
  progress.say(`Reading ${before} and ${after} ...`);
  const loaded = await Promise.all(
    [before, after].map((path) => loadClip(path, limitsOf(options))),
  );
  const known = opened !== null && machine === undefined;
  const washer = known ? await washerOfJob(opened.path, opened.job) : await loadWasher(machine);
  const clips = [
    { ...loaded[0]!, phase },
    { ...loaded[1]!, phase },
  ] as const;
  const told: DiagnoseOptions = {
    washer,
    machineGiven: machine !== undefined,
    ...(drumRpm === undefined ? {} : { drumRpm }),
    ...(motorRpm === undefined ? {} : { motorRpm }),
    ...(lineHz === undefined ? {} : { lineHz }),
    ...(age === undefined ? {} : { ageYears: age }),
    onStep: (text) => progress.say(text),
  };
  const odd = speedQuestion(options, washer);
  if (odd !== null) {
    progress.done();
    err(`washer-noise: ${odd}\n`);
  }
  const heard = hearPair(...clips, told);
  const answer = compareHeard(heard, {
    ...told,
    ...partOf(options.part, opened?.job, washer),
  });
  progress.done();
  if (opened) {
    await writeJobFile(opened, {
      ...opened.job,
      after: { at: new Date().toISOString(), ...answer },
    });
  }
  out(options.json ? `${JSON.stringify(answer)}\n` : comparisonText(answer, width));
  return (await writeHtml({ answer, heard, told }, options, surroundings)) ? 0 : 1;
}
