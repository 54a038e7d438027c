import type { Command } from "commander";
import { addLimitOptions } from "./limit-options.js";
import { addHtmlOptions } from "./html-option.js";
import { addMachineOptions } from "./shared-options.js";
import { createProgress, screenWidth } from "./terminal.js";

const HELP_TAIL = `
Record both with the same programme, at the same speed, empty, with the same phone in the same place.
  washer-noise compare before.m4a after.m4a --machine front-load-belt-universal --phase spin
  washer-noise compare before.m4a after.m4a --phase spin --job kitchen.json
  washer-noise compare before.m4a after.m4a --phase spin --part drum-bearing
  washer-noise compare before.m4a after.m4a --phase spin --html repair.html

Verdicts: cured, better, unchanged, worse, cannot tell (with the reason). Gain and distance do not matter:
only ratios within each recording are compared, with 90 % intervals from drawing blocks of them anew.

The repaired part is the one you name, else the likeliest of the job file's diagnosis, else the one that
leads in the recording before. Without a name the answer also abstains when that recording sounds like a
machine in order. Noise suppression in one of the phones looks like a cure: switch it off.

Exit code: 0 done, 1 done but the report could not be written, 2 wrong usage or a recording could not be
read.`;

/** `compare`: is the noise gone after the repair? */
export function addCompareCommand(program: Command): void {
  const command = program
    .command("compare")
    .summary("say whether the repair cured the noise")
    .description(
      "Compares a recording from before a repair with one from after it and says whether what led to " +
        "the diagnosis is gone.",
    )
    .argument("<before>", "recording before the repair")
    .argument("<after>", "recording after it")
    .addHelpText("after", HELP_TAIL);
  addHtmlOptions(addLimitOptions(addMachineOptions(command)))
    .option("--part <name>", "the part that was repaired, such as drum-bearing")
    .option("--job <file>", "keep the result in this machine's job file")
    .action(async (before: string, after: string, raw: unknown) => {
      const { checkCompareOptions } = await import("./compare-options.js");
      const options = checkCompareOptions(raw);
      const { runCompare } = await import("./run-compare.js");
      const progress = createProgress();
      process.exitCode = await runCompare(before, after, options, {
        out: (text) => process.stdout.write(text),
        err: (text) => process.stderr.write(text),
        progress,
        width: screenWidth(),
      });
    });
}
