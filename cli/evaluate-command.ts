import { Option, type Command } from "commander";
import type { Evaluation } from "../src/index.js";
import { addHtmlOption } from "./html-option.js";
import { addLimitOptions, limitsOf } from "./limit-options.js";
import { UsageError } from "./shared-options.js";
import { createProgress } from "./terminal.js";

const FIGURES = ["top1", "top3", "answered", "character"] as const;
type Figure = (typeof FIGURES)[number];

interface Floor {
  readonly figure: Figure;
  readonly floor: number;
}

function parseFloor(text: string): Floor {
  const [name, value] = text.split("=");
  const figure = FIGURES.find((known) => known === name);
  const floor = Number(value);
  if (figure && value && floor >= 0 && floor <= 1) return { figure, floor };
  throw new UsageError(
    `--fail-under must be FIGURE=SHARE with FIGURE one of ${FIGURES.join(", ")} and SHARE from 0 to 1, received "${text}".`,
  );
}

const HELP_TAIL = `
FOLDER holds sound files and, beside each, NAME.truth.json, as \`washer-noise synthesize\` writes them.

Examples:
  washer-noise synthesize --out made --count 50 --seed 7 && washer-noise evaluate made
  washer-noise evaluate made --tell nothing --json
  washer-noise evaluate made --fail-under top3=0.9
  washer-noise evaluate made --html scores.html

Exit code: 0 done, 1 done but some recording could not be scored or a figure is under its floor,
2 wrong usage or nothing could be done.`;

/** Says which figures lie under their floors. */
function sayFloorsMissed(evaluation: Evaluation, floors: readonly Floor[]): boolean {
  const reached: Record<Figure, number> = {
    top1: evaluation.ranking.top1.value,
    top3: evaluation.ranking.top3.value,
    answered: evaluation.ranking.answerRate.value,
    character: evaluation.characterRight.value,
  };
  // A share of no case reaches no floor.
  const under = floors.filter(({ figure, floor }) => !(reached[figure] >= floor));
  for (const { figure, floor } of under) {
    process.stderr.write(
      `washer-noise: ${figure} is ${reached[figure].toFixed(3)}, under its floor of ${floor}.\n`,
    );
  }
  return under.length > 0;
}

/** `evaluate`: scores over a folder of labelled recordings. */
export function addEvaluateCommand(program: Command): void {
  const command = program
    .command("evaluate")
    .summary("score the answers over a folder of labelled recordings")
    .description(
      "Diagnoses every labelled recording of a folder and scores the answers: top-1 and top-3, " +
        "character, false alarms, drum speed, calibration, each with its interval and number of cases.",
    )
    .argument("<folder>", "folder with sound files and their truth files")
    .addOption(
      new Option("--tell <what>", "what the program is told of each recording")
        .choices(["machine-and-phase", "nothing"])
        .default("machine-and-phase"),
    )
    .option(
      "--fail-under <figure=share>",
      `exit with 1 when the figure is lower; figures: ${FIGURES.join(", ")}; repeatable`,
      (value: string, earlier: string[] = []) => [...earlier, value],
    )
    .option("--json", "print the evaluation as JSON")
    .addHelpText("after", HELP_TAIL);
  addLimitOptions(addHtmlOption(command)).action(async (folder: string, raw: unknown) => {
    const { checkEvaluateOptions } = await import("./evaluate-options.js");
    const options = checkEvaluateOptions(raw);
    const floors = options.failUnder.map(parseFloor);
    const {
      checkReportPlace,
      evaluateFolder,
      evaluatePairs,
      evaluationReport,
      evaluationText,
      writeReport,
    } = await import("../src/index.js");
    await checkReportPlace(options.html);
    const progress = createProgress();
    const { pairs, failures } = await evaluateFolder(folder, options.tell, {
      limits: limitsOf(options),
      onStep: (done, all) => {
        progress.say(`Recording ${done + 1} of ${all} ...`);
      },
    });
    progress.done();
    for (const failure of failures) process.stderr.write(`washer-noise: ${failure}\n`);
    if (pairs.length === 0) {
      process.exitCode = 2;
      return;
    }
    const evaluation = evaluatePairs(pairs);
    if (options.html !== undefined) {
      await writeReport(
        options.html,
        await evaluationReport(evaluation, { tell: options.tell, failed: failures.length }),
      );
    }
    process.stdout.write(
      options.json ? `${JSON.stringify(evaluation)}\n` : evaluationText(evaluation),
    );
    const under = sayFloorsMissed(evaluation, floors);
    process.exitCode = failures.length > 0 || under ? 1 : 0;
  });
}
