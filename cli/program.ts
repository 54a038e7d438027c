import { Command } from "commander";
import { addCompareCommand } from "./compare-command.js";
import { addDiagnoseCommand } from "./diagnose-command.js";
import { addEvaluateCommand } from "./evaluate-command.js";
import { addFrequenciesCommand } from "./frequencies.js";
import { addNextCheckCommand } from "./next-check-command.js";
import { addMeterCommand } from "./meter-command.js";
import { addSynthesizeCommand } from "./synthesize.js";
import { addTriageCommand } from "./triage-command.js";
import { ownVersion } from "./version.js";

/** The whole command line. Heavy modules load only when a command runs. */
export function createProgram(): Command {
  const program = new Command("washer-noise")
    .description(
      "Listens to phone recordings of a noisy washing machine: what is heard, which parts are likely " +
        "and why, what to check next.",
    )
    .version(ownVersion())
    .configureOutput({
      // All complaints begin alike, whoever makes them.
      outputError: (text, write) => {
        write(text.replace(/^error: /, "washer-noise: "));
      },
    })
    .showHelpAfterError("(washer-noise --help, or washer-noise COMMAND --help, explains)")
    .exitOverride();
  addDiagnoseCommand(program);
  addTriageCommand(program);
  addFrequenciesCommand(program);
  addNextCheckCommand(program);
  addMeterCommand(program);
  addCompareCommand(program);
  addSynthesizeCommand(program);
  addEvaluateCommand(program);
  return program;
}
