import {
  checkReportPlace,
  addFinding,
  checkOutlooks,
  loadWasher,
  mergePrices,
  nextCheckReport,
  nextCheckText,
  nextStep,
  planOf,
  readJobFile,
  testsForWasher,
  undoFinding,
  visitLines,
  visitOfJob,
  washerOfJob,
  withMachine,
  writeJobFile,
  writeReport,
  type Job,
  type NextStep,
  type Visit,
  type Washer,
} from "../src/index.js";
import { complaint as complaintOf } from "./run-diagnose.js";
import type { PriceOptions } from "./checked-options.js";
import { toldPrices } from "./price-options.js";

/** What is asked for, checked. */
interface NextCheckOptions extends PriceOptions {
  readonly found: readonly string[];
  readonly undo: boolean;
  readonly audience: "customer" | "technician" | "licensed";
  readonly machine?: string | undefined;
  readonly age?: number | undefined;
  readonly json: boolean;
  readonly html?: string | undefined;
}

interface Surroundings {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  readonly now: () => Date;
  readonly color: boolean;
  readonly width: number;
}

/** The job with everything told on the command line. */
function told(job: Job, washer: Washer, options: NextCheckOptions, at: string): Job {
  const known = testsForWasher(washer);
  const prices = toldPrices(options);
  const priced =
    Object.keys(prices).length > 0 ? { ...job, prices: mergePrices(job.prices, prices) } : job;
  const kept = options.undo ? undoFinding(priced).job : priced;
  return options.found.reduce((now, finding) => addFinding(now, finding, at, known), kept);
}

async function withTold(
  path: string,
  job: Job,
  options: NextCheckOptions,
): Promise<{ job: Job; washer: Washer }> {
  const aged =
    options.age === undefined
      ? job
      : { ...job, machine: { ...job.machine, ageYears: options.age } };
  if (options.machine === undefined) return { job: aged, washer: await washerOfJob(path, aged) };
  const washer = await loadWasher(options.machine);
  return { job: withMachine(path, aged, options.machine, washer), washer };
}

interface Planned {
  readonly path: string;
  readonly job: Job;
  readonly washer: Washer;
  readonly answer: NextStep;
  readonly visit: Visit | null;
}

/** Writes the page. The plan is out already: a fault is told, not thrown. */
async function writeHtml(
  html: string | undefined,
  { path, job, washer, answer, visit }: Planned,
  { err }: Surroundings,
): Promise<boolean> {
  if (html === undefined) return true;
  const complaint = job.complaint?.text;
  try {
    await writeReport(
      html,
      await nextCheckReport({
        answer,
        outlooks: checkOutlooks(job, washer, answer),
        visit,
        job: path,
        ...(complaint === undefined ? {} : { complaint }),
      }),
    );
    return true;
  } catch (error) {
    err(`washer-noise: ${complaintOf(error)}\n`);
    return false;
  }
}

/** Runs `next-check` and returns the exit code. The job file is written before anything is printed. */
export async function runNextCheck(
  path: string,
  options: NextCheckOptions,
  surroundings: Surroundings,
): Promise<number> {
  await checkReportPlace(options.html);
  const opened = await readJobFile(path);
  const at = surroundings.now().toISOString();
  const machine = await withTold(path, opened.job, options);
  const job = told(machine.job, machine.washer, options, at);
  const answer = nextStep(job, machine.washer, { audience: options.audience });
  if (job !== opened.job) await writeJobFile(opened, { ...job, plan: planOf(answer, at) });
  const { color, width } = surroundings;
  // Parts and prices are the technician's matter, not the customer's.
  const visit = options.audience === "customer" ? null : visitOfJob(job, answer, machine.washer);
  const screen = nextCheckText(answer, { color, width, job: path });
  const lines = visit === null ? [] : ["", ...visitLines(visit, width), ""];
  surroundings.out(
    options.json ? `${JSON.stringify({ ...answer, visit })}\n` : screen + lines.join("\n"),
  );
  const planned = { path, job, washer: machine.washer, answer, visit };
  return (await writeHtml(options.html, planned, surroundings)) ? 0 : 1;
}
