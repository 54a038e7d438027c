import { Option, type Command } from "commander";
import { PHASES } from "./choices.js";
import { screenWidth } from "./terminal.js";

const HELP_TAIL = `
Kinds of washer:
  top-load-belt              belt, mode shifter and planetary gear case
  top-load-direct            magnet motor under the tub, agitator on the same shaft
  top-load-direct-geared     the same with a planetary reducer to the pulsator
  top-load-coupled           older: motor coupling and oil-filled gear case
  top-load-belt-reversing    older: belt and mechanical transmission, reversing motor
  front-load-belt-universal  ribbed belt, brushed motor
  front-load-belt-induction  ribbed belt, induction motor on an inverter
  front-load-belt-bldc       ribbed belt, brushless magnet motor
  front-load-direct          magnet motor on the drum shaft
  top-load, front-load, unknown   pool their members, when the kind is not known
A machine file (JSON) narrows one of these to the machine at hand: its pulleys, belt, bearings, gears.
docs/machines.md shows how.

How to read it: a part that follows the drum moves with the drum's speed, one that follows the mains
stays put. Low rates are heard as modulation: how often the noise swells, not a tone of that pitch.

Examples:
  washer-noise frequencies --machine front-load-belt-universal --drum-rpm 1200 --motor-rpm 13800
  washer-noise frequencies --machine top-load-belt --phase wash --motor-rpm 1725 --line-hz 60
  washer-noise frequencies --machine kitchen.json --drum-rpm 1000 --json

An example to learn from: at 1200 rpm the drum turns 20 times a second. The outer race of a drum
bearing with 9 balls is struck 3.58 times a turn, 71.6 times a second: too low for a phone as a tone,
but the growl at 0.5-6 kHz swells at that rate. The same bearing at 600 rpm gives 35.8.`;

/** `frequencies`: what to expect where, at given speeds. */
export function addFrequenciesCommand(program: Command): void {
  program
    .command("frequencies")
    .summary("list the frequencies that each part would make at a given speed")
    .description(
      "Lists the rates of shafts, belt, gears, bearings, motor and pump of a washer at the speeds told: " +
        "first those that only a damaged part makes, then those of a sound machine. A speed that is " +
        "not told is worked out from the drive ratio where that is known well enough.",
    )
    .option("--machine <id|file>", "kind of washer, or a machine file (JSON); default: unknown")
    .addOption(
      new Option("--phase <phase>", "what the machine does").choices(PHASES).default("spin"),
    )
    .option("--drum-rpm <n>", "drum speed in turns per minute")
    .option("--motor-rpm <n>", "motor speed in turns per minute")
    .addOption(new Option("--line-hz <hz>", "mains frequency").choices(["50", "60"]))
    .option("--json", "print the table as JSON")
    .addHelpText("after", HELP_TAIL)
    .action(async (raw: unknown) => {
      const { checkFrequenciesOptions } = await import("./frequencies-options.js");
      const options = checkFrequenciesOptions(raw);
      const { runFrequencies } = await import("./run-frequencies.js");
      const { text, question } = await runFrequencies(options, screenWidth());
      if (question !== null) process.stderr.write(`washer-noise: ${question}\n`);
      process.stdout.write(text);
    });
}
