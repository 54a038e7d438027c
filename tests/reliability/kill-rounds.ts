import { spawn } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { createRandom, type Random } from "../../src/foundation/random.js";
import { parseJobText } from "../../src/inspection/job/parse-job.js";
import { wavBytes } from "../../src/synthesis/wav-bytes.js";

/** How often a command was killed, how often in its work, and what was not whole afterwards. */
export interface KillResult {
  readonly rounds: number;
  /** Rounds in which the command was still running. */
  readonly killed: number;
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

/** One second of noise: quick to listen to, whatever it is taken for. */
function noise(random: Random): Uint8Array {
  const samples = Float32Array.from({ length: 16_000 }, () => 0.1 * random.normal());
  return wavBytes(samples, 16_000);
}

const run = (main: string, folder: string, args: readonly string[]) =>
  spawn(process.execPath, [main, ...args], { cwd: folder, stdio: "ignore" });

const ended = (child: ReturnType<typeof run>): Promise<NodeJS.Signals | null> =>
  new Promise((resolve) => child.once("close", (_code, signal) => resolve(signal)));

async function milliseconds(work: () => Promise<unknown>): Promise<number> {
  const start = performance.now();
  await work();
  return performance.now() - start;
}

interface Watch {
  readonly args: (round: number) => readonly string[];
  /** Complaints about what stands there now, given what stood there before. */
  readonly check: (before: string, after: string) => string | null;
  readonly file: string;
}

const textOf = (path: string): string => (existsSync(path) ? readFileSync(path, "utf8") : "");

// The moment is drawn over a little more than the whole run, with half of the draws in its last third,
// where files are written.
async function killRounds(plan: KillPlan, { args, check, file }: Watch): Promise<KillResult> {
  const { main, folder, rounds, seed } = plan;
  const random = createRandom(seed);
  const path = join(folder, file);
  const whole = await milliseconds(() => ended(run(main, folder, args(0))));
  const faults: string[] = [];
  let killed = 0;
  let changed = 0;
  for (let round = 1; round <= rounds; round++) {
    const before = textOf(path);
    const child = run(main, folder, args(round));
    const end = ended(child);
    await wait(whole * (random.chance(0.5) ? random.between(0, 1.1) : random.between(0.7, 1.1)));
    child.kill("SIGKILL");
    if ((await end) === "SIGKILL") killed++;
    const after = textOf(path);
    if (after !== before) changed++;
    const fault = check(before, after);
    if (fault !== null) faults.push(`round ${round}: ${fault}`);
  }
  return { rounds, killed, changed, faults };
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

async function startJob({ main, folder, seed }: KillPlan): Promise<void> {
  const random = createRandom(seed);
  for (let i = 0; i < 3; i++) writeFileSync(join(folder, `c${i}.wav`), noise(random));
  await ended(run(main, folder, ["diagnose", "c0.wav", "--job", JOB]));
}

/** Kills `diagnose --job`, which adds one of three recordings each time. */
export async function killDiagnose(plan: KillPlan): Promise<KillResult> {
  await startJob(plan);
  return killRounds(plan, {
    file: JOB,
    args: (round) => ["diagnose", `c${round % 3}.wav`, "--age", `${round % 50}`, "--job", JOB],
    check: checkJob,
  });
}

/** Kills `next-check`, which adds a finding each time. */
export async function killNextCheck(plan: KillPlan): Promise<KillResult> {
  await startJob(plan);
  return killRounds(plan, {
    file: JOB,
    args: () => ["next-check", JOB, "--found", "drum-rock=fail"],
    check: checkJob,
  });
}

/** Whole lines; the last one may be cut off by the kill. */
const wholeLines = (text: string): string[] => text.split("\n").slice(0, -1);

function checkRows(before: string, after: string): string | null {
  const old = wholeLines(before);
  const now = wholeLines(after);
  if (old.some((line, i) => now[i] !== line)) return "an earlier row is gone or has changed";
  try {
    for (const line of now) JSON.parse(line);
    return null;
  } catch {
    return "a row is not whole";
  }
}

/** Kills `triage` over a folder that gets one more recording each round, so that there is always work. */
export async function killTriage(plan: KillPlan): Promise<KillResult> {
  const { folder, seed } = plan;
  const random = createRandom(seed);
  const inbox = join(folder, "inbox");
  mkdirSync(inbox);
  const add = (): void => {
    writeFileSync(join(inbox, `c${readdirSync(inbox).length}.wav`), noise(random));
  };
  const result = await killRounds(plan, {
    file: "rows.ndjson",
    args: () => {
      for (let i = 0; i < 3; i++) add();
      return ["triage", "inbox", "--work", "rows.ndjson", "--workers", "2"];
    },
    check: checkRows,
  });
  return result;
}
