import { mkdtempSync, rmSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { compileClosure } from "../batch/compile-closure.js";
import { encodeSeeds } from "./corpus.js";
import { MEGABYTES_PER_CASE, runFuzz, SECONDS_PER_CASE } from "./fuzz-pool.js";
import { root } from "../project-root.js";

const CASES = 1500;
let folder = "";
let script = "";

beforeAll(() => {
  // Inside node_modules, so that the processes find the packages.
  folder = mkdtempSync(join(root, "node_modules", ".cache-fuzz-test-"));
  script = compileClosure("tests/fuzz/fuzz-child.ts", folder);
}, 60_000);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe(`${CASES} damaged and hostile files: sounds of every container and codec, machines, jobs, intake sheets`, () => {
  it(`each end in an answer or one typed error, within ${SECONDS_PER_CASE} s and ${MEGABYTES_PER_CASE} MB`, async () => {
    const seedFolder = join(folder, "seeds");
    if (!encodeSeeds(seedFolder)) {
      process.stderr.write(
        "\nFUZZ TEST: no ffmpeg here, so 17 further kinds of file are not damaged.\n",
      );
    }
    const { cases, endings, faults } = await runFuzz({
      script,
      root,
      seedFolder,
      workFolder: folder,
      seed: 20_260_301,
      firstCase: 0,
      caseCount: CASES,
      processes: 2,
      ffmpegEvery: 40,
      diagnoseEvery: 150,
    });
    expect(faults).toEqual([]);
    expect(cases).toBe(CASES);
    // Unless many cases get through and many are refused, each in its own way, the changes test nothing.
    expect(endings["answer"]).toBeGreaterThan(CASES / 6);
    const refusals =
      "recording-damaged format-unsupported not-audio recording-too-large file-empty";
    for (const code of refusals.split(" ")) expect(endings[code]).toBeGreaterThan(0);
    for (const kind of ["machine-file", "job-file", "intake"]) {
      expect(endings[`${kind}-invalid`]).toBeGreaterThan(CASES / 100);
    }
  }, 180_000);
});
