import { Option, type Command } from "commander";
import { KINDS } from "./choices.js";
import { colorOnStdout, screenWidth } from "./terminal.js";

const HELP_TAIL = `
Before the tips touch anything: pull the plug and keep it in sight, wait 5 minutes, discharge capacitors
through a resistor. Measuring under power is for licensed or trained people under local rules.

Places to measure (--part):
  drain-pump  recirculation-pump  shift-actuator  shift-switch  inlet-valve  motor-windings
  direct-drive-stator  motor-winding  motor-brushes  tacho-coil  motor-capacitor  door-switch
  pressure-switch  door-lock  heater  temperature-sensor  other

What a reading is compared with (--kind; each place has its usual one):
  resistance  the value printed on the machine's own data sheet, ±10 % unless the sheet says otherwise
  closed      a switch pair that should be closed: near 0 ohm; 1 to 5 is doubtful, more is bad
  open        a switch pair that should be open
  windings    three pairs of one motor: equal within 10 %
  capacitor   the marking, ±10 % unless it says otherwise
  sensor      the sensor's own table at the temperature it has
  earth       a winding against the machine's earth: no path

Pass and fail are said only when the meter's own error and that of the leads cannot turn them over;
what lies between is too close to call.

Examples:
  washer-noise meter --part drain-pump --reading 188 --printed 200 --leads 0.2 --fitted original
  washer-noise meter --part shift-actuator --reading 5400 --printed 5700 --accuracy "0.8%+3" --age 9
  washer-noise meter --part inlet-valve --reading 812 --printed 750-850
  washer-noise meter --part shift-switch --reading 0.3 --leads 0.2
  washer-noise meter --part direct-drive-stator --reading 8.1 8.0 8.2 --leads 0.2
  washer-noise meter --part motor-capacitor --reading 11.2uF --printed 12.5uF --tolerance 5%
  washer-noise meter --part temperature-sensor --reading 13.1k --temperature 23 --table "0=35.9k,30=9.7k,60=3.2k"

An example to learn from: the sheet prints 5700, so 5130 to 6270 passes. A meter of ±(0.8 % + 3 counts)
that shows 5150 may stand before anything from 5106 to 5194: too close to call. In an old part that
means replace. The same part of another make may be rated 3700: then 3700 is what counts.

Exit code: 0 a verdict was given, whichever; 2 wrong usage.`;

/** `meter`: one reading against what the part should read. */
export function addMeterCommand(program: Command): void {
  program
    .command("meter")
    .summary("judge a meter reading against the value printed for the part")
    .description(
      "Judges what a meter shows against the value printed for the part that is fitted: pass, fail, " +
        "or too close to call, with the meter's and the leads' own error taken into account.",
    )
    .option("--part <part>", "what is measured; see the list below")
    .option(
      "--reading <value...>",
      'what the meter shows: 5400, 5.4k, 11.2uF, "OL"; three for windings',
    )
    .option("--printed <value>", "value or range (750-850) on the data sheet or the marking")
    .addOption(
      new Option("--printed-on <where>", "where it is printed").choices(["machine", "part"]),
    )
    .addOption(
      new Option("--fitted <make>", "whether the fitted part is the original one").choices([
        "original",
        "other-make",
      ]),
    )
    .option("--tolerance <t>", "the sheet's own tolerance: 5%, -5/+10%, 50ohm (default: 10%)")
    .option(
      "--accuracy <a>",
      'from the meter\'s data sheet: "0.8%+3" (percent of reading + counts)',
    )
    .option("--resolution <r>", "worth of the last digit (default: as typed in the reading)")
    .option("--leads <value>", "what the leads read with the tips together; is taken off")
    .addOption(new Option("--kind <kind>", "what to compare with").choices(KINDS))
    .option("--temperature <c>", "of a sensor in °C: 22, or 22+-1 (default: within 1)")
    .option("--table <rows|file>", "a sensor's table: 0=35.9k,30=9.7k, or a file of such rows")
    .option("--age <years>", "age of the part in years")
    .option("--job <file>", "add the reading to this job file")
    .option("--json", "print the result as JSON")
    .addHelpText("after", HELP_TAIL)
    .action(async (raw: unknown) => {
      const { checkMeterOptions } = await import("./meter-options.js");
      const options = checkMeterOptions(raw);
      const { runMeter } = await import("./run-meter.js");
      process.stdout.write(
        await runMeter(options, { color: colorOnStdout(), width: screenWidth() }),
      );
    });
}
