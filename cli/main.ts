#!/usr/bin/env node
import { CommanderError } from "commander";
import { createProgram } from "./program.js";
import { UsageError } from "./shared-options.js";

// A reader that stops reading (`| head`) is no fault of ours.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") process.exit(0);
  process.stderr.write(`washer-noise: the answer cannot be written to stdout (${error.code}).\n`);
  process.exit(2);
});

try {
  await createProgram().parseAsync(process.argv);
} catch (error) {
  if (error instanceof CommanderError) {
    process.exitCode = error.exitCode === 0 ? 0 : 2;
  } else {
    const known = error instanceof UsageError || (error as Error).name === "WasherNoiseError";
    const text = error instanceof Error ? error.message : String(error);
    process.stderr.write(`washer-noise: ${known ? text : `unexpected fault: ${text}`}\n`);
    if (!known && process.env["WASHER_NOISE_TRACE"])
      process.stderr.write(`${(error as Error).stack ?? ""}\n`);
    process.exitCode = 2;
  }
}
