import { Option, type Command } from "commander";
import { CODECS } from "./encode-sound.js";
import { createProgress } from "./terminal.js";

const HELP_TAIL = `
Each recording NAME gets its truth beside it as NAME.truth.json: machine, phase, faulty parts, drum speed
over time, mains frequency, how far the fault stands out. how-made.json keeps the options and the seed;
the same options give the same recordings. A folder with anything else in it is refused.

What varies from clip to clip: gear ratios, tooth counts, bearings, motors, speeds, paths through the
cabinet, rooms and phones, all from wider ranges than are in use. Good results on such clips show that
the program works; they do not show how it does on real washers.

Examples:
  washer-noise synthesize --out clips --count 50
  washer-noise synthesize --out bearings --fault drum-bearing --phase spin --fault-db 6
  washer-noise synthesize --out quiet --normal-share 1 --machine front-load-direct
  washer-noise synthesize --out one --count 1 --name tuesday --fault drive-belt --codec aac
  washer-noise synthesize --out sent --codec opus-voice --seconds 20 --seed 7

Codecs other than wav need ffmpeg on the PATH. opus-voice and amr are what voice messages use.

Exit code: 0 done, 2 wrong usage or nothing could be written.`;

/** `synthesize`: labelled synthetic recordings. */
export function addSynthesizeCommand(program: Command): void {
  program
    .command("synthesize")
    .summary("write labelled synthetic recordings, to try the program on")
    .description(
      "Writes a folder of simulated phone recordings of washers with known faults, of washers in " +
        "order, and of sounds that are no washer, each with the truth beside it. `evaluate` scores them.",
    )
    .requiredOption("--out <folder>", "folder to write; new, empty, or made by this command")
    .option("--count <n>", "how many recordings (20)")
    .option("--seed <n>", "whole number that everything is drawn from (1)")
    .option("--machine <id>", "only this built-in kind of washer")
    .option("--phase <phase>", "only this phase: fill, wash, drain, spin, coast, hand-spin")
    .option("--fault <component>", "only this faulty part, such as drum-bearing")
    .option("--seconds <s>", "length of each recording (15)")
    .option("--normal-share <share>", "share of washers in order, 0 to 1 (0.3)")
    .option("--not-washer-share <share>", "share of sounds that are no washer, 0 to 1 (0.05)")
    .option("--fault-db <db>", "fault over background while it sounds, dB (drawn from 0 to 12)")
    .option("--name <name>", "what files are called: NAME-0001 and so on, or NAME when one (clip)")
    .addOption(new Option("--codec <codec>", "how the file is stored (wav)").choices(CODECS))
    .addHelpText("after", HELP_TAIL)
    .action(async (raw: unknown) => {
      const { checkSynthesizeOptions } = await import("./synthesize-options.js");
      const options = checkSynthesizeOptions(raw);
      const { runSynthesize } = await import("./run-synthesize.js");
      process.exitCode = await runSynthesize(options, {
        out: (text) => process.stdout.write(text),
        progress: createProgress(),
      });
    });
}
