import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { createRandom } from "../../src/foundation/random.js";
import { emptyJob, jobText } from "../../src/inspection/job/job.js";
import { wavBytes } from "../../src/synthesis/wav-bytes.js";
import { openCommandLine, type CommandLine } from "../batch/command-line.js";
import { compileClosure } from "../batch/compile-closure.js";
import { root } from "../project-root.js";

// Sets a terminal's title, turns text red, goes back over the line, turns the reading direction (ECMA-48).
const HOSTILE = "a\u001b]0;owned\u0007\u001b[31m\r\u009b2J\u202eb";
let compiled = "";
let folder = "";
let line: CommandLine;

const run = async (...args: string[]): Promise<string> => {
  const { stdout, stderr } = await line.run(folder, ...args);
  return stdout + stderr;
};

beforeAll(() => {
  compiled = mkdtempSync(join(root, "node_modules", ".cache-screens-test-"));
  line = openCommandLine(compileClosure("cli/main.ts", compiled));
  compileClosure("src/batch/triage/triage-worker.ts", compiled);
  folder = join(compiled, "case");
  mkdirSync(join(folder, "inbox"), { recursive: true });
  const random = createRandom(5);
  const samples = Float32Array.from({ length: 16_000 }, () => 0.1 * random.normal());
  writeFileSync(join(folder, `${HOSTILE}.wav`), wavBytes(samples, 16_000));
  writeFileSync(join(folder, "inbox", `${HOSTILE}.wav`), wavBytes(samples, 16_000));
  writeFileSync(join(folder, "inbox", `${HOSTILE}.m4a`), "no sound");
  writeFileSync(
    join(folder, "intake.csv"),
    `file,ticket,age\n${HOSTILE}.wav,${HOSTILE},"${HOSTILE}"\nlost ${HOSTILE},7,\n`,
  );
  writeFileSync(
    join(folder, "job.json"),
    jobText({
      ...emptyJob(),
      machine: { label: HOSTILE },
      complaint: { text: HOSTILE },
      findings: [
        { check: "drum-rock", outcome: "fail", at: "2026-03-01T10:00:00Z", note: HOSTILE },
      ],
      recordings: [{ file: HOSTILE, sha256: "0f".repeat(32), phase: "spin", durationSeconds: 9 }],
    }),
  );
  const machine = JSON.stringify({ like: "top-load-belt", name: HOSTILE });
  writeFileSync(join(folder, "machine.json"), machine);
  writeFileSync(join(folder, `${HOSTILE}.json`), "{");
}, 60_000);

afterAll(() => {
  line.close();
  rmSync(compiled, { recursive: true, force: true });
});

describe("control characters in names and texts from outside are shown, not obeyed, by", () => {
  it.each([
    ["diagnose", "diagnose", `${HOSTILE}.wav`, "--verbose"],
    ["diagnose with a job", "diagnose", `${HOSTILE}.wav`, "--job", "job.json"],
    ["diagnose of what is no sound", "diagnose", `inbox/${HOSTILE}.m4a`],
    ["triage", "triage", "inbox", "--intake", "intake.csv"],
    ["next-check", "next-check", "job.json"],
    ["frequencies", "frequencies", "--machine", "./machine.json", "--drum-rpm", "600"],
    ["a refused machine file", "frequencies", "--machine", `${HOSTILE}.json`, "--drum-rpm", "600"],
    ["a missing job", "next-check", `missing ${HOSTILE}`],
  ])("%s", async (_, ...args) => {
    const screen = await run(...args);
    expect(screen).toContain("\\u001b");
    // eslint-disable-next-line no-control-regex -- the point is to find them
    const obeyed = screen.match(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e]/g);
    expect(obeyed).toBeNull();
  });
});
