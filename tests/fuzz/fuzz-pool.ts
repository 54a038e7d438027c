import { fork, type ChildProcess } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";

/** What to run. */
export interface FuzzRun {
  /** Compiled `fuzz-child`. */
  readonly script: string;
  readonly root: string;
  /** Folder of the seeds that ffmpeg made. */
  readonly seedFolder: string;
  /** Folder for what the processes write. */
  readonly workFolder: string;
  readonly seed: number;
  readonly firstCase: number;
  readonly caseCount: number;
  readonly processes: number;
  /** Every how manieth case goes through a file, with ffmpeg at hand. */
  readonly ffmpegEvery: number;
  /** Every how manieth case is diagnosed too. */
  readonly diagnoseEvery: number;
  readonly onCase?: (done: number) => void;
}

/** What came of a run. */
export interface FuzzResult {
  readonly cases: number;
  /** How often each ending came. */
  readonly endings: Readonly<Record<string, number>>;
  /** Cases that ended neither in an answer nor in a typed error, or not in time or memory. */
  readonly faults: readonly string[];
  readonly slowestSeconds: number;
  readonly largestMegabytes: number;
}

/** Processor seconds where the system tells them, since a busy machine makes others wait for their turn. */
export const SECONDS_PER_CASE = 5;
/** Wall-clock seconds after which even a case that does nothing is taken for hung. */
const LONGEST_WAIT_SECONDS = 60;
export const MEGABYTES_PER_CASE = 1024;
/** After as many cases a fresh process starts, so that its peak of memory is that of few. */
const CASES_PER_PROCESS = 400;

interface Message {
  readonly ready?: true;
  readonly begun?: true;
  readonly number: number;
  readonly name: string;
  readonly outcome?: string;
  readonly fault?: string;
  readonly seconds: number;
  readonly megabytes: number;
}

/** Memory that a process holds now, in megabytes; 0 where the system does not tell. */
function residentMegabytes(pid: number | undefined): number {
  try {
    return (
      Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, "utf8"))?.[1] ?? 0) / 1024
    );
  } catch {
    return 0;
  }
}

/** Processor seconds that a process has used; null where the system does not tell. */
function processorSeconds(pid: number | undefined): number | null {
  try {
    // The name in the second field may hold blanks; user and system time are the 12th and 13th behind it.
    const fields = readFileSync(`/proc/${pid}/stat`, "utf8").split(") ").at(-1)!.split(" ");
    return (Number(fields[11]) + Number(fields[12])) / 100;
  } catch {
    return null;
  }
}

/** Runs the cases on several processes, each watched for time and memory. */
export async function runFuzz(run: FuzzRun): Promise<FuzzResult> {
  const endings: Record<string, number> = {};
  const faults: string[] = [];
  let next = run.firstCase;
  let done = 0;
  let slowestSeconds = 0;
  let largestMegabytes = 0;
  const end = run.firstCase + run.caseCount;

  const finish = (message: Message): void => {
    done++;
    slowestSeconds = Math.max(slowestSeconds, message.seconds);
    largestMegabytes = Math.max(largestMegabytes, message.megabytes);
    const { number, name, outcome, fault } = message;
    const label = `case ${number} (${name})`;
    if (fault !== undefined) faults.push(`${label}: ${fault}`);
    else if (message.seconds > SECONDS_PER_CASE) faults.push(`${label}: took ${message.seconds} s`);
    else if (message.megabytes > MEGABYTES_PER_CASE) {
      faults.push(`${label}: took ${message.megabytes.toFixed(0)} MB`);
    } else endings[outcome!] = (endings[outcome!] ?? 0) + 1;
    run.onCase?.(done);
  };

  const oneProcess = (id: string): Promise<void> =>
    new Promise((resolve) => {
      let left = CASES_PER_PROCESS;
      let current: Message | null = null;
      let begunAt = 0;
      let usedBefore: number | null = null;
      let killed = "";
      const child: ChildProcess = fork(
        run.script,
        [
          run.root,
          run.seedFolder,
          join(run.workFolder, id),
          String(run.seed),
          String(run.ffmpegEvery),
          String(run.diagnoseEvery),
        ],
        { execArgv: ["--max-old-space-size=900"], stdio: ["ignore", "ignore", "pipe", "ipc"] },
      );
      let complaints = "";
      child.stderr!.on("data", (text) => {
        if (complaints.length < 2000) complaints += String(text);
      });
      const kill = (why: string): void => {
        killed = why;
        child.kill("SIGKILL");
      };
      const watch = setInterval(() => {
        if (current === null) return;
        const waited = (Date.now() - begunAt) / 1000;
        const used = processorSeconds(child.pid);
        const worked = used === null || usedBefore === null ? waited : used - usedBefore;
        if (worked > SECONDS_PER_CASE) kill(`no end after ${SECONDS_PER_CASE} s`);
        if (waited > LONGEST_WAIT_SECONDS)
          kill(`no end after ${LONGEST_WAIT_SECONDS} s of waiting`);
        const megabytes = residentMegabytes(child.pid);
        if (megabytes > MEGABYTES_PER_CASE) kill(`took ${megabytes.toFixed(0)} MB`);
      }, 50);
      const giveNext = (): void => {
        if (left-- > 0 && next < end) child.send(next++);
        else child.disconnect();
      };
      child.on("message", (message: Message) => {
        if (message.begun) {
          current = message;
          begunAt = Date.now();
          usedBefore = processorSeconds(child.pid);
          return;
        }
        if (!message.ready) {
          current = null;
          finish(message);
        }
        giveNext();
      });
      child.on("exit", (code, signal) => {
        clearInterval(watch);
        if (current !== null) {
          const fault = killed || `the process ended with ${signal ?? code}: ${complaints}`;
          finish({ ...current, fault, seconds: 0, megabytes: 0 });
        } else if (complaints !== "" || code !== 0) {
          faults.push(`a process ended with ${signal ?? code}: ${complaints}`);
        }
        resolve();
      });
    });

  const lane = async (id: string): Promise<void> => {
    for (let round = 0; next < end && faults.length < 50; round++) await oneProcess(id);
  };
  await Promise.all(Array.from({ length: run.processes }, (_, i) => lane(String(i))));
  return { cases: done, endings, faults, slowestSeconds, largestMegabytes };
}
