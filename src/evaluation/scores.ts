import { createRandom } from "../foundation/random.js";
import { areaUnderRisk, riskCoverage, type RiskPoint } from "./risk-coverage.js";
import { calibrationOf, type Calibration } from "./calibration.js";
import { characterConfusion, componentConfusion, type Confusion } from "./confusion.js";
import { isAnswered, isCovered, rankOfTruth, targetOf, type Pair } from "./pair.js";
import { share, type Proportion } from "./proportion.js";
import { speedScores, type SpeedScores } from "./speed-scores.js";

/** Scores of one slice of the recordings. */
export interface RankingScores {
  readonly top1: Proportion;
  readonly top3: Proportion;
  /** Mean over true labels of their own top-1 share, so that frequent ones do not hide rare ones. */
  readonly macroTop1: number;
  readonly macroTop3: number;
  readonly answerRate: Proportion;
}

export interface Evaluation {
  readonly schema: "washer-noise/evaluation@1";
  readonly recordings: number;
  /** Over answered recordings of washers. */
  readonly ranking: RankingScores;
  readonly slices: Readonly<Record<string, Readonly<Record<string, RankingScores>>>>;
  readonly characterRight: Proportion;
  readonly normalCalledFaulty: Proportion;
  readonly otherSoundsDiagnosed: Proportion;
  /** How often the prediction set holds the cause, over answered washers, and how many parts it names. */
  readonly predictionSet: { readonly cover: Proportion; readonly meanSize: number };
  readonly speed: SpeedScores;
  readonly spinSpeed: SpeedScores;
  readonly calibration: Calibration | null;
  readonly riskCoverage: readonly RiskPoint[];
  readonly areaUnderRisk: number;
  readonly components: Confusion;
  readonly characters: Confusion;
}

function macro(pairs: readonly Pair[], within: number): number {
  const labels = [...new Set(pairs.map(targetOf))];
  const shares = labels.map(
    (label) =>
      share(
        pairs.filter((pair) => targetOf(pair) === label),
        (pair) => rankOfTruth(pair) <= within,
      ).value,
  );
  return shares.reduce((sum, value) => sum + value, 0) / shares.length;
}

/** Top-1, top-3 and macro shares over answered recordings, and the answer rate over all of them. */
export function rankingScores(pairs: readonly Pair[]): RankingScores {
  const answered = pairs.filter(isAnswered);
  return {
    top1: share(answered, (pair) => rankOfTruth(pair) === 1),
    top3: share(answered, (pair) => rankOfTruth(pair) <= 3),
    macroTop1: macro(answered, 1),
    macroTop3: macro(answered, 3),
    answerRate: share(pairs, isAnswered),
  };
}

function levelClass(pair: Pair): string {
  const level = pair.truth.faultToBackgroundDb;
  if (level === undefined) return "not told";
  if (level < 0) return "below 0 dB";
  return level < 6 ? "0 to 6 dB" : "6 dB and above";
}

const SLICES: Readonly<Record<string, (pair: Pair) => string>> = {
  component: targetOf,
  phase: (pair) => pair.truth.phase ?? "not told",
  machine: (pair) => pair.truth.machine ?? "not told",
  codec: (pair) => pair.truth.codec ?? "not told",
  level: levelClass,
};

function sliced(pairs: readonly Pair[]): Evaluation["slices"] {
  return Object.fromEntries(
    Object.entries(SLICES).map(([name, keyOf]) => {
      const keys = [...new Set(pairs.map(keyOf))].sort();
      const entries = keys.map((key) => [
        key,
        rankingScores(pairs.filter((pair) => keyOf(pair) === key)),
      ]);
      return [name, Object.fromEntries(entries) as Record<string, RankingScores>];
    }),
  );
}

/** A normal machine is called faulty when a part other than `normal` leads an answer. */
const calledFaulty = (pair: Pair): boolean =>
  (pair.answer.verdict === "likely" || pair.answer.verdict === "shortlist") &&
  pair.answer.components[0]?.component !== "normal";

function predictionSets(pairs: readonly Pair[]): Evaluation["predictionSet"] {
  const told = pairs.filter((pair) => pair.answer.predictionSet !== undefined);
  const sizes = told.map((pair) => pair.answer.predictionSet!.components.length);
  return {
    cover: share(told, isCovered),
    meanSize: sizes.reduce((sum, size) => sum + size, 0) / sizes.length,
  };
}

/** Everything that is measured over labelled recordings, each figure with its n and interval. */
export function evaluatePairs(pairs: readonly Pair[]): Evaluation {
  const washers = pairs.filter((pair) => pair.truth.washer);
  const answered = washers.filter(isAnswered);
  const points = riskCoverage(answered);
  return {
    schema: "washer-noise/evaluation@1",
    recordings: pairs.length,
    ranking: rankingScores(washers),
    slices: sliced(washers),
    characterRight: share(
      washers.filter((pair) => pair.truth.character !== undefined),
      (pair) => pair.truth.character === pair.answer.character,
    ),
    normalCalledFaulty: share(
      washers.filter((pair) => pair.truth.faults.length === 0),
      calledFaulty,
    ),
    otherSoundsDiagnosed: share(
      pairs.filter((pair) => !pair.truth.washer),
      (pair) => pair.answer.verdict === "likely" || pair.answer.verdict === "shortlist",
    ),
    predictionSet: predictionSets(answered),
    speed: speedScores(washers),
    spinSpeed: speedScores(washers.filter((pair) => pair.truth.phase === "spin")),
    calibration: calibrationOf(answered, createRandom(20_261)),
    riskCoverage: points,
    areaUnderRisk: areaUnderRisk(points),
    components: componentConfusion(washers),
    characters: characterConfusion(washers),
  };
}
