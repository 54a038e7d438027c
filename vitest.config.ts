import { defineConfig } from "vitest/config";
import { SlowestFirst } from "./tests/slowest-first.js";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    expect: { requireAssertions: true },
    testTimeout: 60_000,
    hookTimeout: 60_000,
    maxWorkers: 2,
    // Young objects are mostly lists of samples that are soon done with: with room for them a tenth of the time goes.
    execArgv: ["--max-semi-space-size=64"],
    // No test changes what another could see, so that a worker loads the program once and not for each file.
    isolate: false,
    sequence: { sequencer: SlowestFirst },
  },
});
