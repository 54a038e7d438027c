import { spawnSync } from "node:child_process";
import { copyFileSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { COMPONENTS } from "../../src/machine/words.js";
import { openCommandLine, type CommandLine, type Ran } from "../batch/command-line.js";
import { compileClosure } from "../batch/compile-closure.js";
import { root } from "../project-root.js";
import { demo, writeStartOfDemo } from "../start-of-demo.js";

let folder = "";
let main = "";

let line: CommandLine;

/** In a process of its own. */
function runAlone(...args: string[]): Ran {
  return spawnSync(process.execPath, [main, ...args], { encoding: "utf8", cwd: folder });
}

const run = (...args: string[]): Promise<Ran> => line.run(folder, ...args);

beforeAll(() => {
  // Inside node_modules, so that the child finds the packages.
  folder = mkdtempSync(join(root, "node_modules", ".cache-cli-test-"));
  main = compileClosure("cli/main.ts", folder);
  line = openCommandLine(main);
}, 60_000);

afterAll(() => {
  line.close();
  rmSync(folder, { recursive: true, force: true });
});

describe("washer-noise diagnose", () => {
  it("answers a phone recording: verdict first, exit 0, nothing on stderr when piped", () => {
    const { status, stdout, stderr } = runAlone(
      "diagnose",
      demo,
      "--machine",
      "front-load-belt-universal",
      "--phase",
      "spin",
    );
    expect(status).toBe(0);
    expect(stderr).toBe("");
    expect(stdout.split("\n").length).toBeLessThanOrEqual(41);
    expect(stdout.split("\n")[0]).toMatch(/drum bearing/);
  });

  it("goes on with exit 1 when one of several recordings cannot be used: JSON in the contract's shape", async () => {
    const start = join(folder, "start.wav");
    await writeStartOfDemo(start, 4);
    const { status, stdout, stderr } = await run(
      "diagnose",
      start,
      join(folder, "missing.wav"),
      "--json",
    );
    expect(status).toBe(1);
    expect(stderr).toMatch(/missing\.wav/);
    const answer = JSON.parse(stdout) as Record<string, unknown> & {
      components: { component: string; probability: number; for: unknown[]; against: unknown[] }[];
      recordings: Record<string, unknown>[];
    };
    expect(answer["schema"]).toBe("washer-noise/diagnosis@1");
    for (const key of [
      "machine",
      "phase",
      "speed",
      "character",
      "verdict",
      "nextChecks",
      "cautions",
    ]) {
      expect(answer).toHaveProperty(key);
    }
    for (const key of [
      "file",
      "sha256",
      "durationSeconds",
      "sampleRateHz",
      "channels",
      "codec",
      "bandHz",
      "problems",
    ]) {
      expect(answer.recordings[0]).toHaveProperty(key);
    }
    expect(answer.components.reduce((sum, row) => sum + row.probability, 0)).toBeCloseTo(1, 6);
    expect(COMPONENTS).toEqual(
      expect.arrayContaining(answer.components.map((row) => row.component)),
    );
  });

  it("refuses bad input with one clear line and exit 2", async () => {
    const text = join(folder, "note.wav");
    writeFileSync(text, "this is no sound at all, just some words in a file\n".repeat(40));
    const empty = join(folder, "empty.m4a");
    writeFileSync(empty, "");
    const cases: [string[], RegExp][] = [
      [["diagnose", text], /note\.wav/],
      [["diagnose", empty], /empty/],
      [["diagnose", join(folder, "missing.wav")], /missing\.wav/],
      [["diagnose", tmpdir()], /folder|directory|file/i],
      [["diagnose", demo, "--machine", "hovercraft"], /front-load.*hovercraft/s],
      [["diagnose", demo, "--drum-rpm", "-5"], /--drum-rpm must be a number/],
      [["diagnose", demo, "--phase", "dance"], /spin/],
      [["diagnose", demo, "--machine", "front-lod"], /Did you mean "front-load"\?/],
      [["diagnose", `${demo}=spinn`], /"spinn" is no phase; phases are fill, wash/],
      [["evaluate", join(folder, "nowhere")], /nothing of that name/],
      [["next-check", folder], /that is a folder/],
      [["synthesize", "--out", "x", "--normal-share", "2"], /from 0 to 1, received/],
      [["diagnose"], /^washer-noise: missing required argument/],
    ];
    for (const [args, complaint] of cases) {
      const { status, stdout, stderr } = await run(...args);
      expect(status, args.join(" ")).toBe(2);
      expect(stdout).toBe("");
      expect(stderr).toMatch(complaint);
      expect(stderr).not.toMatch(/unexpected fault|at .*\.js:\d/);
    }
  });

  it("counts a recording once that is named twice, and says so; names no motor speed of a guessed machine", async () => {
    const start = join(folder, "start.wav");
    const copy = join(folder, "copy of it.wav");
    await writeStartOfDemo(start, 8);
    copyFileSync(start, copy);
    const { status, stdout, stderr } = await run(
      "diagnose",
      `${start}=spin`,
      `${copy}=wash`,
      "--json",
    );
    expect(status).toBe(0);
    expect(stderr).toMatch(/copy of it\.wav is the same recording as .*start\.wav.*as spin/);
    const { recordings, speed, estimated } = JSON.parse(stdout) as {
      recordings: unknown[];
      speed: { drumRpm: object | null; motorRpm: object | null };
      estimated: string[];
    };
    expect(recordings).toHaveLength(1);
    // A motor speed would rest on a ratio that only the kind of machine tells.
    expect(speed.drumRpm).not.toBeNull();
    expect(speed.motorRpm).toBeNull();
    expect(estimated).toEqual(["kind of machine", "drum speed", "age"]);
  });

  it("starts --help without loading the heavy modules: under 200 ms of CPU", () => {
    const cpuSeconds = (...args: string[]): number => {
      const command = [process.execPath, ...args].map((word) => `'${word}'`).join(" ");
      const times = [1, 2, 3, 4].map(() => {
        const script = `TIMEFORMAT='%U %S'; time ${command} > /dev/null`;
        const { stderr } = spawnSync("/bin/bash", ["-c", script], { encoding: "utf8" });
        const [user, system] = stderr.trim().split(" ").map(Number) as [number, number];
        return user + system;
      });
      return Math.min(...times);
    };
    const help = cpuSeconds(main, "--help");
    // Where Node itself takes over 65 ms to start, the machine is slower than the limit is meant for.
    const empty = cpuSeconds("-e", "0");
    expect(help).toBeLessThan(Math.max(0.2, 3 * empty));
  });
});
