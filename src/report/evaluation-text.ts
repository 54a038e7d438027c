import { hundredFigure } from "../foundation/chance-words.js";
import type { Confusion } from "../evaluation/confusion.js";
import type { Proportion } from "../evaluation/proportion.js";
import type { Evaluation, RankingScores } from "../evaluation/scores.js";

const percent = (value: number): string =>
  Number.isNaN(value) ? "   -  " : `${hundredFigure(value, 1).padStart(5)} %`;

function shareLine(label: string, p: Proportion): string {
  const interval = p.n === 0 ? "" : `[${percent(p.low).trim()}, ${percent(p.high).trim()}]`;
  return `${label.padEnd(44)} ${percent(p.value)}  ${interval.padEnd(18)} n ${p.n}`;
}

function sliceLines(name: string, slice: Readonly<Record<string, RankingScores>>): string[] {
  const rows = Object.entries(slice).map(
    ([key, { top1, top3, answerRate }]) =>
      `  ${key.padEnd(28)} ${percent(top1.value)} ${percent(top3.value)} ${percent(answerRate.value)}  n ${answerRate.n}`,
  );
  return ["", `By ${name}`.padEnd(30) + "  top-1    top-3  answered", ...rows];
}

/** Most frequent mistakes: truth → answer, count. */
function mistakes(confusion: Confusion): string[] {
  const cells = confusion.rows.flatMap((row, r) =>
    confusion.columns.flatMap((column, c) => {
      const count = confusion.counts[r]![c]!;
      return row !== column && count > 0 ? [{ row, column, count }] : [];
    }),
  );
  cells.sort((a, b) => b.count - a.count);
  return cells.slice(0, 12).map(({ row, column, count }) => `  ${count} × ${row} → ${column}`);
}

/** An evaluation as a person reads it. Shares come with their 95 % interval and n. */
export function evaluationText(evaluation: Evaluation): string {
  const { ranking, speed, spinSpeed, calibration } = evaluation;
  const lines = [
    `${evaluation.recordings} labelled recordings`,
    "",
    shareLine("top-1, answered washers", ranking.top1),
    shareLine("top-3, answered washers", ranking.top3),
    `${"macro over true labels, top-1 and top-3".padEnd(44)} ${percent(ranking.macroTop1)}  ${percent(ranking.macroTop3)}`,
    shareLine("answered instead of abstaining", ranking.answerRate),
    shareLine("character right", evaluation.characterRight),
    shareLine("normal machine called faulty", evaluation.normalCalledFaulty),
    shareLine("sound of no washer diagnosed", evaluation.otherSoundsDiagnosed),
    shareLine("90 % prediction set holds the cause", evaluation.predictionSet.cover),
    `${"parts in the prediction set, mean".padEnd(44)} ${evaluation.predictionSet.meanSize.toFixed(1).padStart(5)}`,
    shareLine("drum speed within 1 %, all phases", speed.withinOnePercent),
    shareLine("drum speed within 1 %, spin", spinSpeed.withinOnePercent),
    shareLine("octave errors, spin", spinSpeed.octaveErrors),
    shareLine("drum speed answered, spin", spinSpeed.answered),
    shareLine("90 % interval holds the speed, spin", spinSpeed.intervalCover),
  ];
  if (calibration) {
    const { ece, brier, n } = calibration;
    lines.push(
      `${"calibration error (equal-mass bins)".padEnd(44)} ${ece.value.toFixed(3)}    [${ece.low.toFixed(3)}, ${ece.high.toFixed(3)}]     n ${n}`,
      `${"Brier score".padEnd(44)} ${brier.toFixed(3)}`,
      `${"area under risk-coverage".padEnd(44)} ${evaluation.areaUnderRisk.toFixed(3)}`,
      "",
      "Claimed chance of the top answer against share right",
      ...calibration.bins.map(
        (bin) => `  claimed ${percent(bin.claimed)}  right ${percent(bin.right)}  n ${bin.n}`,
      ),
    );
  }
  for (const [name, slice] of Object.entries(evaluation.slices)) {
    lines.push(...sliceLines(name, slice));
  }
  lines.push("", "Most frequent mistakes", ...mistakes(evaluation.components));
  lines.push("", "Character, most frequent mistakes", ...mistakes(evaluation.characters));
  return `${lines.join("\n")}\n`;
}
