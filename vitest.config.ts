import { defineConfig } from "vitest/config";
import { SlowestFirst } from "./tests/slowest-first.js";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    expect: { requireAssertions: true },
    testTimeout: 60_000,
    hookTimeout: 60_000,
    maxWorkers: 2,
    // No test changes what another could see, so that a worker loads the program once and not for each file.
    isolate: false,
    sequence: { sequencer: SlowestFirst },
  },
});
