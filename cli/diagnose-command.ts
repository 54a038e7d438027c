import type { Command } from "commander";
import { addHtmlOptions } from "./html-option.js";
import { addLimitOptions } from "./limit-options.js";
import { addMachineOptions } from "./shared-options.js";
import { colorOnStdout, createProgress, screenWidth } from "./terminal.js";

const HELP_TAIL = `
Several recordings of one machine make one answer; say the phase of each with NAME=PHASE:
  washer-noise diagnose spin.m4a=spin drain.m4a=drain --machine front-load-belt-universal --age 9

Examples:
  washer-noise diagnose spin.m4a
  washer-noise diagnose spin.m4a --phase spin --drum-rpm 1200 --verbose
  washer-noise diagnose voice-note.ogg --machine top-load --phase wash --json
  washer-noise diagnose spin.m4a --phase spin --html spin.html
  washer-noise diagnose spin.m4a=spin --machine front-load --age 9 --job kitchen.json
  washer-noise next-check kitchen.json

How to record: phone half a metre from the machine on a towel, not on the machine, quietest room you
can get, 20 seconds or more, best from the start of the noisy phase. Send the file, not a voice note.

Exit code: 0 done, 1 done but some recording could not be used, 2 wrong usage or nothing could be done.`;

/** `diagnose`: one machine, one or more recordings of it. */
export function addDiagnoseCommand(program: Command): void {
  const command = program
    .command("diagnose")
    .summary("say which part most likely makes the noise, why, and what to check next")
    .description(
      "Listens to one or more recordings of one washing machine and says what kind of noise it is, " +
        "which parts most likely make it, why, and what to check next. Everything but the recording " +
        "is optional: what is not told is estimated from the sound, and the answer says so.",
    )
    .argument("<clip...>", "sound or video files; NAME=PHASE tells the phase of that file")
    .addHelpText("after", HELP_TAIL);
  addLimitOptions(addHtmlOptions(addMachineOptions(command)))
    .option(
      "--job <file>",
      "start or update this machine's job file; what it knows of the machine is used here",
    )
    .option("--verbose", "also print the figures behind the answer")
    .action(async (clips: string[], raw: unknown) => {
      const { checkDiagnoseOptions } = await import("./diagnose-options.js");
      const options = checkDiagnoseOptions(raw);
      const { runDiagnose } = await import("./run-diagnose.js");
      process.exitCode = await runDiagnose(clips, options, {
        out: (text) => process.stdout.write(text),
        err: (text) => process.stderr.write(text),
        now: () => new Date(),
        progress: createProgress(),
        color: colorOnStdout(),
        width: screenWidth(),
      });
    });
}
