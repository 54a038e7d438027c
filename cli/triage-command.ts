import type { Command } from "commander";
import { addHtmlOptions } from "./html-option.js";
import { addLimitOptions } from "./limit-options.js";
import { addMachineOptions, UsageError } from "./shared-options.js";
import { colorOnStdout, screenWidth } from "./terminal.js";
import type { TriageCommandOptions } from "./triage-options.js";
import { createTriageMeter } from "./triage-progress.js";

const HELP_TAIL = `
PATH is a folder (searched to its depth), a recording, or with --merge a file of rows.

The intake sheet is CSV with a heading row and a column \`file\`; further columns: ticket, machine,
age_years, phase, line_hz, drum_rpm, motor_rpm, complaint, moved, new, leak, loads_per_week. What it tells
moves the chances. Columns it does not know are kept. docs/triage.md explains each.

Results are kept as they come in a work file: inbox.triage.ndjson in the current folder for a folder
inbox, unless --work names another. The same command again goes on where it stopped. Ctrl-C stops within
two seconds.

With --html each recording gets a page of its own beside the list: today.html and the folder today-clips.
Pictures and clips about double the time; --no-audio keeps pages small.

Examples:
  washer-noise triage inbox/
  washer-noise triage inbox/ --intake intake.csv --html today.html
  washer-noise triage inbox/ --intake intake.csv --csv > today.csv
  washer-noise triage inbox/ --json | head -1
  washer-noise triage inbox/ --shard 3/8 --work out/3.ndjson --json > /dev/null
  washer-noise triage --merge out/*.ndjson --csv > today.csv

Exit code: 0 done, 1 done but some input could not be used, or stopped before all was done,
2 wrong usage or nothing could be done.`;

function checkTogether(options: TriageCommandOptions): void {
  if (options.json && options.csv) throw new UsageError("--json and --csv: name one of them.");
  if (!options.merge) return;
  const { intake, work, shard: part } = options;
  const odd = Object.entries({ "--intake": intake, "--work": work, "--shard": part }).find(
    ([, value]) => value !== undefined,
  );
  if (odd) throw new UsageError(`${odd[0]} has no meaning with --merge. Leave it out.`);
}

/** Ctrl-C, and what batch systems send before they kill. A second one ends the program at once. */
function stopSignal(): AbortSignal {
  const controller = new AbortController();
  for (const name of ["SIGINT", "SIGTERM"] as const) {
    process.once(name, () => {
      controller.abort();
    });
  }
  return controller.signal;
}

/** `triage`: many customers' recordings, one row each, worst first. */
export function addTriageCommand(program: Command): void {
  const command = program
    .command("triage")
    .summary("many customers' recordings: one row each, worst first")
    .description(
      "Listens to many recordings, each of another machine, and lists them worst first: how pressing, " +
        "which part, and what to do: send a technician with these parts, ask the customer for a safe " +
        "check, ask for another recording, or nothing.",
    )
    .argument("<path...>", "folders and sound or video files")
    .addHelpText("after", HELP_TAIL);
  addLimitOptions(addHtmlOptions(addMachineOptions(command)))
    .option("--intake <csv>", "sheet of who said what, one row a recording")
    .option("--csv", "print the list as CSV for a spreadsheet")
    .option("--workers <n>", "threads (default: as many as cores)")
    .option(
      "--clip-seconds <n>",
      "longest time for one recording before it is given up (default: 120)",
    )
    .option("--work <file>", "where results are kept as they come")
    .option("--shard <part/parts>", "only this part of the recordings, the same on every machine")
    .option("--merge", "join files of rows from several runs instead of listening")
    .action(async (paths: string[], raw: unknown) => {
      const { checkTriageOptions } = await import("./triage-options.js");
      const options = checkTriageOptions(raw);
      checkTogether(options);
      const signal = stopSignal();
      const { runTriageCommand } = await import("./run-triage.js");
      process.exitCode = await runTriageCommand(paths, options, {
        out: writeOut,
        err: (text) => process.stderr.write(text),
        meter: createTriageMeter(),
        signal,
        color: colorOnStdout(),
        width: screenWidth(),
      });
    });
}

/** Waits where the reader is slower, so that a long list does not pile up in memory. */
const writeOut = (text: string): Promise<void> =>
  new Promise((resolve) => {
    if (process.stdout.write(text)) resolve();
    else process.stdout.once("drain", resolve);
  });
