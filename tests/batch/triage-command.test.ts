import { spawn, type ChildProcess } from "node:child_process";
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { TriageRow } from "../../src/answer/triage-row.js";
import { createRandom } from "../../src/foundation/random.js";
import { wavBytes } from "../../src/synthesis/wav-bytes.js";
import { openCommandLine, type CommandLine, type Ran } from "./command-line.js";
import { compileClosure } from "./compile-closure.js";
import { root } from "../project-root.js";

const CLIPS = 4;
let compiled = "";
let main = "";
let line: CommandLine;
let folder = "";

/** One worker unless more are asked for, since each has to load the program first. */
const run = (...args: string[]): Promise<Ran> =>
  line.run(folder, "triage", ...(args.includes("--workers") ? [] : ["--workers", "1"]), ...args);

const start = (...args: string[]): ChildProcess =>
  spawn(process.execPath, [main, "triage", ...args], { cwd: folder, stdio: "ignore" });

const ended = (child: ChildProcess): Promise<number | null> =>
  new Promise((resolve) => child.once("close", resolve));

/** A quarter of a second of noise: quick to listen to, whatever it is taken for. */
function noise(seed: number): Uint8Array {
  const random = createRandom(seed);
  const samples = Float32Array.from({ length: 4000 }, () => 0.1 * random.normal());
  return wavBytes(samples, 16_000);
}

/** Whole lines of a file of rows; a cut-off last line is left out. */
const wholeLines = (path: string): string[] =>
  existsSync(path) ? readFileSync(path, "utf8").split("\n").slice(0, -1) : [];

const rowsOf = (text: string): TriageRow[] =>
  text
    .trim()
    .split("\n")
    .map((line) => JSON.parse(line) as TriageRow);

const nameOf = (row: TriageRow): string => ("file" in row ? row.file : row.recordings[0]!.file);

beforeAll(() => {
  // Inside node_modules, so that the child finds the packages.
  compiled = mkdtempSync(join(root, "node_modules", ".cache-triage-test-"));
  main = compileClosure("cli/main.ts", compiled);
  line = openCommandLine(main);
  compileClosure("src/batch/triage/triage-worker.ts", compiled);
}, 60_000);

afterAll(() => {
  line.close();
  rmSync(compiled, { recursive: true, force: true });
});

beforeEach(() => {
  rmSync(folder, { recursive: true, force: true });
  folder = mkdtempSync(join(compiled, "case-"));
  mkdirSync(join(folder, "inbox"));
  for (let i = 0; i < CLIPS; i++) writeFileSync(join(folder, "inbox", `c${i}.wav`), noise(i));
});

describe("washer-noise triage", () => {
  it("leaves nothing behind for a mistyped folder, and says so in a line", async () => {
    const { status, stdout, stderr } = await run("nofolder");
    expect(status).toBe(2);
    expect(stdout).toBe("");
    expect(stderr).toMatch(/^washer-noise: No file or folder is at nofolder\. Check the path\.\n$/);
    expect(existsSync(join(folder, "nofolder.triage.ndjson"))).toBe(false);
    expect(readdirSync(folder).filter((name) => name.endsWith(".ndjson"))).toEqual([]);
  });

  it("says before it listens that the pages have no place", async () => {
    writeFileSync(join(folder, "today-clips"), "a file where the folder would go");
    for (const [list, why] of [
      ["nowhere/today.html", /nowhere\/today\.html cannot be written: its folder does not exist/],
      ["today.html", /today-clips for the pages .* a file of that name is there/],
    ] as const) {
      const { status, stdout, stderr } = await run("inbox", "--html", list);
      expect([status, stdout]).toEqual([2, ""]);
      expect(stderr).toMatch(why);
      expect(stderr.trim().split("\n")).toHaveLength(1);
    }
    // Nothing was listened to: no rows were kept.
    expect(existsSync(join(folder, "inbox.triage.ndjson"))).toBe(false);
  });

  it("gives one row a recording with what the sheet tells, the machine to be stopped on top", async () => {
    writeFileSync(join(folder, "inbox", "broken.m4a"), "no sound");
    writeFileSync(
      join(folder, "intake.csv"),
      "file;ticket;age;complaint;agent\r\nc3.wav;T-3;x;no burning smell;Ann\r\nbroken.m4a;=cmd();3;It smells burnt;@Bob\r\n",
    );
    const { status, stdout, stderr } = await run(
      "inbox",
      "--intake",
      "intake.csv",
      "--csv",
      "--workers",
      "2",
    );
    expect(status).toBe(1);
    expect(stderr).toContain("row 2, column age: must be a number from 0 to 60 years");
    const lines = stdout.trim().split("\r\n");
    expect(lines).toHaveLength(CLIPS + 2);
    expect(lines[0]).toMatch(/^urgency,ticket,file,.*,agent$/);
    // A cell that a spreadsheet would run is made text (OWASP, CSV Injection).
    expect(lines[1]).toMatch(/^stop-use,'=cmd\(\),inbox\/broken\.m4a,failure,.*,'@Bob$/);
    expect(lines.find((line) => line.includes("c3.wav"))).toMatch(/^none,T-3,.*,Ann$/);
  });

  it("goes on where it stopped and listens to no recording twice, whatever it is called by now", async () => {
    const first = await run("inbox/c0.wav", "inbox/c1.wav", "--json");
    expect(first.stderr).toContain("rows are kept in inbox.triage.ndjson");
    const work = join(folder, "inbox.triage.ndjson");
    expect(wholeLines(work)).toHaveLength(2);
    cpSync(join(folder, "inbox", "c0.wav"), join(folder, "inbox", "again.wav"));
    const { stdout, stderr } = await run("inbox", "--json");
    expect(wholeLines(work)).toHaveLength(CLIPS);
    expect(stderr).toContain(`3 of ${CLIPS + 1} were known from inbox.triage.ndjson`);
    expect(rowsOf(stdout).map(nameOf)).toContain("inbox/again.wav");
    expect(rowsOf(stdout)).toHaveLength(CLIPS + 1);
    // Told something else, everything is listened to anew.
    await run("inbox/c0.wav", "--age", "9");
    expect(wholeLines(work)).toHaveLength(CLIPS + 1);
  });

  it("ends within two seconds of Ctrl-C with the finished rows on disk, and the next run ends the job", async () => {
    const work = join(folder, "inbox.triage.ndjson");
    const child = start("inbox", "--workers", "1");
    for (let i = 0; i < 1000 && wholeLines(work).length === 0; i++) await wait(20);
    const asked = performance.now();
    child.kill("SIGINT");
    expect(await ended(child)).toBe(1);
    expect(performance.now() - asked).toBeLessThan(2000);
    const before = wholeLines(work);
    expect(before.length).toBeGreaterThan(0);
    expect(before.length).toBeLessThan(CLIPS);
    // What a kill in the middle of a write leaves.
    writeFileSync(work, '{"schema":"washer-noise/diagn', { flag: "a" });
    const { stdout } = await run("inbox", "--json");
    expect(rowsOf(stdout)).toHaveLength(CLIPS);
    const after = wholeLines(work);
    expect(after.slice(0, before.length)).toEqual(before);
    expect(new Set(rowsOf(after.join("\n")).map(nameOf)).size).toBe(CLIPS);
    expect(after).toHaveLength(CLIPS);
  });

  it("refuses what is larger than allowed, and listens to it once more is allowed", async () => {
    const refused = await run("inbox/c0.wav", "--max-megabytes", "0.001", "--json");
    expect(refused.status).toBe(2);
    expect(rowsOf(refused.stdout)[0]).toMatchObject({
      problem: {
        code: "recording-too-large",
        message: expect.stringContaining("--max-megabytes") as string,
      },
    });
    expect(rowsOf((await run("inbox/c0.wav", "--json")).stdout)[0]).toHaveProperty("verdict");
  });

  it("gives a failure row for a recording that takes too long, and goes on", async () => {
    const { status, stdout } = await run(
      "inbox/c0.wav",
      "inbox/c1.wav",
      "--clip-seconds",
      "0.1",
      "--json",
    );
    expect(status).toBe(2);
    const rows = rowsOf(stdout);
    expect(rows).toHaveLength(2);
    expect(rows[0]).toMatchObject({
      schema: "washer-noise/failure@1",
      problem: {
        code: "internal",
        message: expect.stringContaining("longer than 0.1 s") as string,
      },
    });
  });

  it("splits a list alike wherever it lies, and joins the parts to what one machine finds", async () => {
    cpSync(join(folder, "inbox"), join(folder, "elsewhere", "inbox"), { recursive: true });
    mkdirSync(join(folder, "out"));
    await run("inbox", "--shard", "1/2", "--work", "out/1.ndjson");
    await run("elsewhere/inbox", "--shard", "2/2", "--work", "out/2.ndjson");
    const { status, stdout } = await run("--merge", "out/1.ndjson", "out/2.ndjson", "--json");
    expect(status).toBe(0);
    const names = rowsOf(stdout).map((row) => nameOf(row).replace(/^.*\//, ""));
    expect(names.sort()).toEqual(Array.from({ length: CLIPS }, (_, i) => `c${i}.wav`));
    expect(wholeLines(join(folder, "out", "1.ndjson")).length).toBeGreaterThan(0);
    expect(wholeLines(join(folder, "out", "2.ndjson")).length).toBeGreaterThan(0);
  });

  it("refuses to write into a file that holds something else", async () => {
    writeFileSync(join(folder, "notes.txt"), "Call Ann\nCall Bob");
    for (const odd of ["notes.txt", "/dev/null"]) {
      const { status, stderr } = await run("inbox", "--work", odd);
      expect(status).toBe(2);
      expect(stderr).toContain("--work");
    }
    expect(readFileSync(join(folder, "notes.txt"), "utf8")).toBe("Call Ann\nCall Bob");
  });
});
