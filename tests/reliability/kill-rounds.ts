import { spawn } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, watch, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setImmediate as turn } from "node:timers/promises";
import { createRandom, type Random } from "../../src/foundation/random.js";
import { emptyJob, jobText, type Job } from "../../src/inspection/job/job.js";
import { parseJobText } from "../../src/inspection/job/parse-job.js";
import type { TriageRow } from "../../src/answer/triage-row.js";
import { wavBytes } from "../../src/synthesis/wav-bytes.js";

/** How often a command was killed, how often in its work, and what was not whole afterwards. */
export interface KillResult {
  readonly rounds: number;
  /** Rounds in which the command was still running. */
  readonly killed: number;
  /** Of these, rounds in which it had begun to write. */
  readonly writing: number;
  /** Rounds after which the file differs from what it was before. */
  readonly changed: number;
  readonly faults: readonly string[];
}

/** What to kill, where, and how often. */
export interface KillPlan {
  /** Compiled `cli/main`. */
  readonly main: string;
  /** An empty folder. */
  readonly folder: string;
  readonly rounds: number;
  readonly seed: number;
}

/** A quarter of a second of noise: quick to listen to, whatever it is taken for. */
function noise(random: Random): Uint8Array {
  const samples = Float32Array.from({ length: 4000 }, () => 0.1 * random.normal());
  return wavBytes(samples, 16_000);
}

const run = (main: string, folder: string, args: readonly string[]) =>
  spawn(process.execPath, [main, ...args], { cwd: folder, stdio: "ignore" });

const ended = (child: ReturnType<typeof run>): Promise<NodeJS.Signals | null> =>
  new Promise((resolve) => child.once("close", (_code, signal) => resolve(signal)));

interface Course {
  readonly child: ReturnType<typeof run>;
  readonly begun: number;
  /** Moment of the first write; null: none yet. */
  readonly wrote: () => number | null;
  /** Settles with the first write. */
  readonly writing: Promise<void>;
  readonly ended: Promise<NodeJS.Signals | null>;
}

/** Starts a command and watches its folder for the first write to `file` or to what is renamed to it. */
function course({ main, folder }: KillPlan, file: string, args: readonly string[]): Course {
  let wrote: number | null = null;
  const begun = performance.now();
  const child = run(main, folder, args);
  const watcher = watch(folder);
  const writing = new Promise<void>((resolve) => {
    watcher.on("change", (_, name) => {
      if (!String(name).includes(file)) return;
      wrote ??= performance.now();
      resolve();
    });
  });
  const end = ended(child).finally(() => {
    watcher.close();
  });
  return { child, begun, wrote: () => wrote, writing, ended: end };
}

/** Waits without rounding to whole milliseconds, since a write takes only a few of them. */
async function waitUntil(moment: number): Promise<void> {
  while (performance.now() < moment) await turn();
}

interface Watch {
  readonly args: (round: number) => readonly string[];
  /** Complaints about what stands there now, given what stood there before. */
  readonly check: (before: string, after: string) => string | null;
  readonly file: string;
}

const textOf = (path: string): string => (existsSync(path) ? readFileSync(path, "utf8") : "");

// Every other round is killed at any moment of the run, the rest at any moment from the first write on; a
// little late is drawn too, so that the last moments are not missed.
async function killRounds(plan: KillPlan, { args, check, file }: Watch): Promise<KillResult> {
  const { folder, rounds, seed } = plan;
  const random = createRandom(seed);
  const path = join(folder, file);
  const whole = course(plan, file, args(0));
  await whole.ended;
  const end = performance.now();
  const runMilliseconds = end - whole.begun;
  const writeMilliseconds = end - (whole.wrote() ?? whole.begun);
  const faults: string[] = [];
  const counts = { killed: 0, writing: 0, changed: 0 };
  for (let round = 1; round <= rounds; round++) {
    const before = textOf(path);
    const one = course(plan, file, args(round));
    if (round % 2 === 0) await waitUntil(one.begun + random.between(0, 1.1 * runMilliseconds));
    else {
      await Promise.race([one.writing, one.ended]);
      await waitUntil(performance.now() + random.between(0, 1.1 * writeMilliseconds));
    }
    one.child.kill("SIGKILL");
    const killed = (await one.ended) === "SIGKILL";
    if (killed) counts.killed++;
    if (killed && one.wrote() !== null) counts.writing++;
    const after = textOf(path);
    if (after !== before) counts.changed++;
    const fault = check(before, after);
    if (fault !== null) faults.push(`round ${round}: ${fault}`);
  }
  return { rounds, ...counts, faults };
}

const JOB = "kitchen.json";

/** The old job or a whole newer one that has lost nothing. */
function checkJob(before: string, after: string): string | null {
  if (after === before) return null;
  try {
    const old = parseJobText(before, JOB);
    const now = parseJobText(after, JOB);
    const lost = [
      ...old.findings.filter((one, i) => now.findings[i]?.at !== one.at),
      ...old.recordings.filter(({ sha256 }) => !now.recordings.some((r) => r.sha256 === sha256)),
    ];
    return lost.length === 0 ? null : `${lost.length} findings or recordings are gone`;
  } catch (error) {
    return `the job is no longer whole: ${(error as Error).message}`;
  }
}

/** Kills `diagnose --job`, which adds one of three recordings each time; the first run starts the job. */
export async function killDiagnose(plan: KillPlan): Promise<KillResult> {
  const random = createRandom(plan.seed);
  for (let i = 0; i < 3; i++) writeFileSync(join(plan.folder, `c${i}.wav`), noise(random));
  return killRounds(plan, {
    file: JOB,
    args: (round) => ["diagnose", `c${round % 3}.wav`, "--age", `${round % 50}`, "--job", JOB],
    check: checkJob,
  });
}

/** Kills `next-check`, which adds a finding each time. */
export async function killNextCheck(plan: KillPlan): Promise<KillResult> {
  const components = [
    { component: "drum-bearing", probability: 0.6 },
    { component: "drive-belt", probability: 0.4 },
  ] satisfies NonNullable<Job["diagnosis"]>["components"];
  const job: Job = {
    ...emptyJob(),
    machine: { id: "front-load-belt-universal" },
    recordings: [{ file: "c0.wav", sha256: "0f".repeat(32), phase: "spin", durationSeconds: 9 }],
    diagnosis: {
      at: "2026-03-01T09:30:00Z",
      verdict: { label: "shortlist", text: "Between bearing and belt." },
      character: "grinding",
      components,
    },
  };
  writeFileSync(join(plan.folder, JOB), jobText(job));
  return killRounds(plan, {
    file: JOB,
    args: () => ["next-check", JOB, "--found", "drum-rock=fail"],
    check: checkJob,
  });
}

/** Whole lines; the last one may be cut off by the kill. */
const wholeLines = (text: string): string[] => text.split("\n").slice(0, -1);

const keyOf = (line: string): string => (JSON.parse(line) as TriageRow).triage.key!;

function checkRows(before: string, after: string): string | null {
  const old = wholeLines(before);
  const now = wholeLines(after);
  if (old.some((line, i) => now[i] !== line)) return "an earlier row is gone or has changed";
  try {
    const keys = now.map(keyOf);
    return new Set(keys).size === keys.length ? null : "a finished recording was done again";
  } catch {
    return "a row is not whole";
  }
}

/** Small files, refused at a glance, so that rows follow each other closely. */
const FILES = 150;

/** Kills `triage` over a folder; three rounds in turn go on with the same work, then all is told anew. */
export async function killTriage(plan: KillPlan): Promise<KillResult> {
  const inbox = join(plan.folder, "inbox");
  mkdirSync(inbox);
  for (let i = 0; i < FILES; i++) {
    writeFileSync(join(inbox, `c${i}.wav`), `This is no sound, and it is number ${i}.`.repeat(9));
  }
  const args = (round: number): string[] => {
    // The first run, which takes the time, leaves nothing to do: the rounds begin on other work.
    const rpm = String(100 + Math.ceil(round / 3));
    return ["triage", "inbox", "--work", "rows.ndjson", "--workers", "2", "--drum-rpm", rpm];
  };
  const result = await killRounds(plan, { file: "rows.ndjson", args, check: checkRows });
  await ended(run(plan.main, plan.folder, args(plan.rounds)));
  const text = textOf(join(plan.folder, "rows.ndjson"));
  // All recordings, told the same, stand at the end, each once.
  const last = wholeLines(text).slice(-FILES).map(keyOf);
  const told = new Set(last.map((key) => key.split("-")[1]));
  const fault = checkRows("", text) ?? (told.size === 1 ? null : "the last run left some out");
  return fault === null ? result : { ...result, faults: [...result.faults, fault] };
}
