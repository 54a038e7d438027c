import { Option, type Command } from "commander";
import { AUDIENCES } from "./choices.js";
import { addHtmlOption } from "./html-option.js";
import { addPriceOptions } from "./price-options.js";
import { colorOnStdout, screenWidth } from "./terminal.js";

const HELP_TAIL = `
A job file is one machine's record: recordings, what they said, findings, readings, prices. Start it
with \`washer-noise diagnose CLIP --job FILE\`; docs/job-file.md lists its fields.

The order is the one with the least expected minutes until the fault is found. Opening is counted once:
with the belt off, what needs the belt off comes next. It says when further checks cannot change the
answer. Tell each outcome and the order changes:

  washer-noise next-check kitchen.json
  washer-noise next-check kitchen.json --found drum-rock=fail
  washer-noise next-check kitchen.json --found belt-off-spin=quiet --found "belt-look=worn:two ribs gone"
  washer-noise next-check kitchen.json --found tub-bounce=not-done
  washer-noise next-check kitchen.json --undo
  washer-noise next-check kitchen.json --audience customer      for a support agent: covers stay on
  washer-noise next-check kitchen.json --html plan.html         a plan to print, mail or open on a phone

An unknown check or outcome lists those that exist. A repeated check replaces its earlier outcome; both
stay in the record. The job file changes only with --found, --undo, --machine, --age or prices.

For a technician it also lists parts and tools to bring and whether a repair pays. With your own prices,
kept in the job, a part is carried when its chance times a second trip outweighs what an unused one costs:
  washer-noise next-check kitchen.json --price drive-belt=35 --trip-cost 90 --labour-per-hour 80 --new-price 600

Exit code: 0 done, 1 done but the report could not be written, 2 wrong usage, or the job file cannot be
used (it is left as it is).`;

const collect = (value: string, before: string[] | undefined): string[] => [
  ...(before ?? []),
  value,
];

/** `next-check`: what to inspect next, from a job file. */
export function addNextCheckCommand(program: Command): void {
  const command = program
    .command("next-check")
    .summary("say what to inspect next, in which order, and take findings back in")
    .description(
      "Reads a job file and says what to inspect next: which checks in which order, which end of the " +
        "machine to open first, with which tools and cautions, what each outcome means, and when to stop.",
    )
    .argument("<job>", "job file (JSON)")
    .option("--found <check=outcome>", "a finding, with ':note' if wished; repeatable", collect)
    .option("--undo", "take the last finding back")
    .addOption(
      new Option("--audience <who>", "who does the checks")
        .choices(AUDIENCES)
        .default("technician"),
    )
    .option("--machine <id|file>", "kind of machine, kept in the job")
    .option("--age <years>", "age of the machine, kept in the job");
  addHtmlOption(addPriceOptions(command))
    .option("--json", "print the answer as JSON")
    .addHelpText("after", HELP_TAIL)
    .action(async (job: string, raw: unknown) => {
      const { checkNextCheckOptions } = await import("./next-check-options.js");
      const options = checkNextCheckOptions(raw);
      const { runNextCheck } = await import("./run-next-check.js");
      process.exitCode = await runNextCheck(job, options, {
        out: (text) => process.stdout.write(text),
        err: (text) => process.stderr.write(text),
        now: () => new Date(),
        color: colorOnStdout(),
        width: screenWidth(),
      });
    });
}
