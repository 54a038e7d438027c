import { Option, type Command } from "commander";
import { PHASES } from "./choices.js";

/** Options that `diagnose` and `triage` share. All may be left out. */
export function addMachineOptions(command: Command): Command {
  return command
    .option(
      "--machine <id|file>",
      "kind of washer: a built-in id (see `washer-noise frequencies --help`) or a machine file (JSON)",
    )
    .addOption(
      new Option("--phase <phase>", "what the machine does in the recording").choices(PHASES),
    )
    .option("--drum-rpm <n>", "drum speed in turns per minute, when you know it")
    .option("--motor-rpm <n>", "motor speed in turns per minute, when you know it")
    .addOption(new Option("--line-hz <hz>", "mains frequency").choices(["50", "60"]))
    .option("--age <years>", "age of the machine in years")
    .option("--json", "print the answer as JSON");
}

/** Wrong usage: one line on stderr, exit code 2. */
export class UsageError extends Error {
  override readonly name = "UsageError";
}
