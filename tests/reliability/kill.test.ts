import { mkdtempSync, rmSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { compileClosure } from "../batch/compile-closure.js";
import { killDiagnose, killNextCheck, killTriage, type KillPlan } from "./kill-rounds.js";
import { root } from "../project-root.js";

let compiled = "";
let main = "";

beforeAll(() => {
  // Inside node_modules, so that the commands find the packages.
  compiled = mkdtempSync(join(root, "node_modules", ".cache-kill-test-"));
  main = compileClosure("cli/main.ts", compiled);
  compileClosure("src/batch/triage/triage-worker.ts", compiled);
}, 60_000);

afterAll(() => {
  rmSync(compiled, { recursive: true, force: true });
});

const MOST_TRIES = 5;
/** A busy machine may need several tries. */
const TIMEOUT_MS = 150_000;

const plan = (rounds: number, seed: number): KillPlan => ({
  main,
  folder: mkdtempSync(join(compiled, "round-")),
  rounds,
  seed,
});

describe("kill -9 at random moments leaves every earlier finding, recording and row whole:", () => {
  it.each([
    ["diagnose --job", killDiagnose, 3],
    ["next-check", killNextCheck, 4],
    ["triage", killTriage, 3],
  ])(
    "%s",
    async (_, rounds, count) => {
      // A busy machine may let every kill miss the write: then nothing was interrupted, and more are tried.
      let interrupted = 0;
      for (let seed = 31; seed < 31 + MOST_TRIES && interrupted === 0; seed++) {
        const { faults, writing } = await rounds(plan(count, seed));
        expect(faults).toEqual([]);
        interrupted += writing;
      }
      expect(interrupted).toBeGreaterThan(0);
    },
    TIMEOUT_MS,
  );
});
