import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { createRandom } from "../../src/foundation/random.js";
import { wavBytes } from "../../src/synthesis/wav-bytes.js";
import type { Job } from "../../src/inspection/job/job.js";
import type { NextStep } from "../../src/inspection/next-step/next-step-answer.js";
import { openCommandLine, type CommandLine, type Ran } from "../batch/command-line.js";
import { compileClosure } from "../batch/compile-closure.js";
import { root } from "../project-root.js";

let compiled = "";
let line: CommandLine;
let folder = "";
let path = "";

const run = (...args: string[]): Promise<Ran> => line.run(folder, ...args);

const job: Job = {
  schema: "washer-noise/job@1",
  machine: { id: "front-load-belt-universal", ageYears: 9 },
  recordings: [],
  diagnosis: {
    at: "2026-03-01T09:30:00Z",
    verdict: { label: "shortlist", text: "Between bearing and belt." },
    character: "grinding",
    components: [
      { component: "drum-bearing", probability: 0.45 },
      { component: "drive-belt", probability: 0.25 },
      { component: "motor-bearing", probability: 0.15 },
      { component: "drain-pump", probability: 0.15 },
    ],
  },
  findings: [],
  readings: [
    {
      part: "drain-pump",
      readings: ["150"],
      at: "2026-03-01T09:40:00Z",
      verdict: "pass",
      text: "150 ohm",
    },
  ],
};

/** Half a second of noise: quick to listen to, whatever it is taken for. */
function shortNoise(seed: number): Uint8Array {
  const random = createRandom(seed);
  const samples = Float32Array.from({ length: 8000 }, () => 0.1 * random.normal());
  return wavBytes(samples, 16_000);
}

const saved = (): Job => JSON.parse(readFileSync(path, "utf8")) as Job;

beforeAll(() => {
  // Inside node_modules, so that the child finds the packages.
  compiled = mkdtempSync(join(root, "node_modules", ".cache-next-check-test-"));
  const main = compileClosure("cli/main.ts", compiled);
  writeFileSync(join(compiled, "package.json"), '{ "type": "module" }');
  line = openCommandLine(main);
}, 60_000);

afterAll(() => {
  line.close();
  rmSync(compiled, { recursive: true, force: true });
});

beforeEach(() => {
  folder = mkdtempSync(join(compiled, "job-"));
  path = join(folder, "job.json");
  writeFileSync(path, JSON.stringify(job));
});

describe("washer-noise next-check", () => {
  it("says the next check on its first line and how to tell the outcome, file untouched", async () => {
    const before = readFileSync(path, "utf8");
    const { status, stdout, stderr } = await run("next-check", "job.json");
    expect([status, stderr]).toEqual([0, ""]);
    const lines = stdout.trimEnd().split("\n");
    expect(lines[0]).toMatch(/^Next: rock the drum by hand \(drum-rock\), 1 min/);
    expect(stdout).toMatch(/^Tell it +washer-noise next-check job\.json --found drum-rock=/m);
    expect(stdout).toMatch(/open the rear/);
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(100);
    // What to do stands on one screen; parts and prices follow below.
    expect(lines.findIndex((line) => line.startsWith("Tell it"))).toBeLessThan(60);
    expect(readFileSync(path, "utf8")).toBe(before);
  });

  it("takes findings in, keeps them with the plan, and says a contradiction aloud", async () => {
    const { status, stdout } = await run(
      "next-check",
      "job.json",
      "--found",
      "drum-rock=pass",
      "--found",
      "belt-off-spin=quiet:belt looks new",
    );
    expect(status).toBe(0);
    expect(stdout).toMatch(/DISAGREE.*drum bearing/);
    const { findings, plan, readings } = saved();
    expect(findings.map((row) => [row.check, row.outcome, row.note])).toEqual([
      ["drum-rock", "pass", undefined],
      ["belt-off-spin", "quiet", "belt looks new"],
    ]);
    expect(plan!.checks.length).toBeGreaterThan(0);
    expect(readings).toEqual(job.readings);
  });

  it("takes the last finding back with --undo", async () => {
    await run("next-check", "job.json", "--found", "drum-rock=fail", "--found", "tub-bounce=pass");
    const { status } = await run("next-check", "job.json", "--undo");
    expect(status).toBe(0);
    expect(saved().findings.map((row) => row.check)).toEqual(["drum-rock"]);
    await run("next-check", "job.json", "--undo");
    const none = await run("next-check", "job.json", "--undo");
    expect(none.status).toBe(2);
    expect(none.stderr).toMatch(/has none/);
  });

  it("prints one JSON object whose chances sum to 1", async () => {
    const { stdout } = await run("next-check", "job.json", "--json", "--audience", "customer");
    const answer = JSON.parse(stdout) as NextStep;
    expect(answer.schema).toBe("washer-noise/next-check@1");
    expect(answer.components.reduce((sum, row) => sum + row.probability, 0)).toBeCloseTo(1, 9);
    expect(answer.nextChecks.length).toBeGreaterThan(0);
    for (const check of answer.nextChecks) expect(check.audience).toBe("customer");
  });

  it.each([
    [["--found", "drum-rok=fail"], /check must be one of .*drum-rock/],
    [["--found", "drum-rock=purple"], /outcome of drum-rock must be one of pass, doubt, fail/],
    [["--found", "drum-rock"], /CHECK=OUTCOME/],
    [["--audience", "neighbour"], /customer, technician, licensed/],
    [["--machine", "sofa"], /machine must be one of/],
  ])("refuses %j with exit 2 and leaves the job as it was", async (args, message) => {
    const before = readFileSync(path, "utf8");
    const { status, stdout, stderr } = await run("next-check", "job.json", ...args);
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toMatch(message);
    expect(readFileSync(path, "utf8")).toBe(before);
  });

  it("refuses a missing, damaged or newer job with the remedy", async () => {
    expect((await run("next-check", "nowhere.json")).stderr).toMatch(
      /diagnose CLIP --job nowhere\.json/,
    );
    for (const text of ["{", '{"schema":"washer-noise/job@7"}']) {
      writeFileSync(path, text);
      const { status, stderr } = await run("next-check", "job.json", "--found", "drum-rock=fail");
      expect(status).toBe(2);
      expect(stderr).toMatch(/left as it is/);
      expect(readFileSync(path, "utf8")).toBe(text);
    }
  });

  it("does not follow a machine file that lies outside the job's folder unless it is named", async () => {
    const machine = join(compiled, "kitchen.json");
    writeFileSync(machine, '{ "like": "front-load-direct" }');
    writeFileSync(path, JSON.stringify({ ...job, machine: { file: "../kitchen.json" } }));
    expect((await run("next-check", "job.json")).stderr).toMatch(/outside its folder/);
    const { status, stdout } = await run("next-check", "job.json", "--machine", machine, "--json");
    expect(status).toBe(0);
    expect((JSON.parse(stdout) as NextStep).machine.label).toMatch(/magnet motor/);
  });
});

describe("washer-noise diagnose --job", () => {
  it("starts a job, and takes the same recording in again without listing it twice", async () => {
    rmSync(path);
    writeFileSync(join(folder, "spin.wav"), shortNoise(1));
    const machine = ["--machine", "front-load-belt-universal", "--age", "9"];
    const first = await run("diagnose", "spin.wav=spin", ...machine, "--job", "job.json");
    expect([first.status, first.stderr]).toEqual([0, ""]);
    const { recordings, diagnosis, machine: kept } = saved();
    expect(recordings).toHaveLength(1);
    expect(recordings[0]).toMatchObject({ file: "spin.wav", phase: "spin" });
    expect(kept).toMatchObject({ id: "front-load-belt-universal", ageYears: 9 });
    const sum = diagnosis!.components.reduce((total, row) => total + row.probability, 0);
    expect(sum).toBeCloseTo(1, 4);

    await run("next-check", "job.json", "--found", "drum-rock=fail");
    // Machine and age are in the job now, and need not be told again.
    writeFileSync(join(folder, "drain.wav"), shortNoise(2));
    const again = await run(
      "diagnose",
      "drain.wav=drain",
      "spin.wav=spin",
      "--job",
      "job.json",
      "--json",
    );
    expect(again.stderr).toBe("");
    const answer = JSON.parse(again.stdout) as { machine: { id: string; given: boolean } };
    expect(answer.machine).toMatchObject({ id: "front-load-belt-universal", given: true });
    expect(saved().recordings.map((row) => row.file)).toEqual(["spin.wav", "drain.wav"]);
    expect(saved().findings.map((row) => row.check)).toEqual(["drum-rock"]);

    const alone = await run("diagnose", "spin.wav=spin", "--job", "job.json");
    expect(alone.stderr).toMatch(/drain\.wav.*not listened to/);
    expect(saved().recordings).toHaveLength(2);
  });

  it("refuses a damaged job before it listens, and makes no file when no recording can be read", async () => {
    writeFileSync(path, "{");
    const demo = join(root, "samples-synthetic", "demo-spin.m4a");
    const { status, stdout } = await run("diagnose", demo, "--job", "job.json");
    expect([status, stdout]).toEqual([2, ""]);
    expect(readFileSync(path, "utf8")).toBe("{");
    expect((await run("diagnose", "lost.wav", "--job", "new.json")).status).toBe(2);
    expect(existsSync(join(folder, "new.json"))).toBe(false);
  });
});
