// Scores what hear-simulator wrote: node .tools/tests/tools/score-lines.js LINES.ndjson [LINES.ndjson ...]
// With --again the ranking is made anew from the kept evidence with the present rules and weights.
import { readFileSync } from "node:fs";
import { diagnose } from "../../src/diagnosis/diagnose.js";
import { conformalThreshold } from "../../src/evaluation/conformal.js";
import { isAnswered, type Pair } from "../../src/evaluation/pair.js";
import { evaluatePairs } from "../../src/evaluation/scores.js";
import type { Truth } from "../../src/evaluation/truth.js";
import type { Evidence, Measurement } from "../../src/evidence/evidence.js";
import { phaseScores } from "../../src/evidence/phase/guess-phase.js";
import { FEATURES, type FeatureId } from "../../src/evidence/features.data.js";
import { washerById } from "../../src/machine/washers.js";
import type { Phase } from "../../src/machine/words.js";
import type { Recording, RecordingProblem } from "../../src/recording/recording.js";
import { evaluationText } from "../../src/report/evaluation-text.js";

interface Line {
  readonly truth: Truth;
  readonly told: boolean;
  readonly quality: Recording["quality"];
  readonly problems: readonly RecordingProblem["code"][];
  readonly blocked?: boolean;
  readonly limited?: boolean;
  readonly seconds?: number;
  readonly phase: Evidence["phase"];
  readonly features: Readonly<Record<FeatureId, Measurement>>;
  readonly answer: Pair["answer"];
}

const again = process.argv.includes("--again");
const files = process.argv.slice(2).filter((name) => name !== "--again");
const lines = files
  .flatMap((file) => readFileSync(file, "utf8").trim().split("\n"))
  .map((text) => JSON.parse(text) as Line);

function problemsOf(line: Line): RecordingProblem[] {
  if (line.blocked) return [{ code: "silent", message: "", severity: "blocks" }];
  return line.limited ? [{ code: "narrow-band", message: "", severity: "limits" }] : [];
}

/** The phase as the present weights of its signs have it. */
function guessAgain(phase: Evidence["phase"]): Evidence["phase"] {
  if (phase.signs === undefined) return phase;
  return { ...phase, scores: phaseScores(phase.signs) };
}

function answerAgain(line: Line): Pair["answer"] {
  const missing: Measurement = { value: null, quality: 0 };
  const features = Object.fromEntries(
    FEATURES.map(({ id }) => [id, line.features[id] ?? missing]),
  ) as Record<FeatureId, Measurement>;
  const evidence: Evidence = {
    phase: line.told
      ? { label: line.truth.phase as Phase, given: true, scores: line.phase.scores }
      : guessAgain(line.phase),
    features,
    lines: [],
    tones: [],
    impacts: [],
  };
  const recording = {
    quality: line.quality,
    durationSeconds: line.seconds ?? 15,
    problems: problemsOf(line),
  } as unknown as Recording;
  const answer = diagnose({
    clips: [{ recording, evidence }],
    washer: washerById(line.told ? line.truth.machine! : "unknown"),
    circumstances: {},
    told: { machine: line.told, phase: line.told, speed: false },
  });
  return {
    verdict: answer.verdict.label,
    character: answer.character.label,
    components: answer.components,
    predictionSet: answer.predictionSet,
    drumRpm: line.answer.drumRpm,
  };
}

const pairs: Pair[] = lines.map((line) => ({
  truth: line.truth,
  answer: again ? answerAgain(line) : line.answer,
}));
process.stdout.write(evaluationText(evaluatePairs(pairs)));

// What the prediction set's threshold would have to be on these recordings.
function chanceDownTo({ truth, answer }: Pair): number {
  let sum = 0;
  for (const { component, probability } of answer.components) {
    sum += probability;
    if (component === (truth.faults[0] ?? "normal")) break;
  }
  return sum;
}
for (const limited of [false, true]) {
  const own = pairs.filter(
    (pair, i) => pair.truth.washer && isAnswered(pair) && (lines[i]!.limited ?? false) === limited,
  );
  const threshold = conformalThreshold(own.map(chanceDownTo), 0.9);
  process.stdout.write(
    `prediction set, ${limited ? "limited" : "good"} recordings: threshold ${threshold.toFixed(3)} (n ${own.length})\n`,
  );
}
