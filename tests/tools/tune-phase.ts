// Moves the weights of the phase signs towards what the first and third generators show, each by at most one
// nat (maximum a posteriori: the expert's weight is the centre). A generator draws its phases as often as it
// likes, so its recordings are weighted to the expert's shares of the phases. The second simulator is not for
// tuning.
//   npm run build:tools && node .tools/tests/tools/tune-phase.js OUT.ts LINES.ndjson [LINES.ndjson ...]
// LINES come from hear-simulator, untold. Each file is also left out once, to see what the others say of it.
import { readFileSync, writeFileSync } from "node:fs";
import { KNOWN_PHASES, type KnownPhase } from "../../src/diagnosis/view.js";
import { PHASE_PRIORS, PHASE_SIGNS } from "../../src/evidence/phase/phase-signs.data.js";
import type { Phase } from "../../src/machine/words.js";
import { Deltas, softmax } from "./fitting/deltas.js";

interface Line {
  readonly truth: { readonly washer: boolean; readonly phase?: Phase };
  readonly phase: { readonly signs: Readonly<Record<string, number>> };
}

const STEPS = 500;
const PRIOR_WIDTH = 0.35;
/**
 * Left to the expert: no generator brakes a spin before its end, so a falling speed is always a run-down there;
 * and how loud a drive hums in the spin is what its author liked.
 */
const LEFT_ALONE: readonly string[] = ["speed-falls", "no-hum"];
/** No recording counts for more than this many, however rare its phase is in the file. */
const HEAVIEST = 3;

const PRIORS = KNOWN_PHASES.map((phase) => PHASE_PRIORS[phase]);
const EXPERT = PHASE_SIGNS.flatMap((sign) => KNOWN_PHASES.map((phase) => sign.logOdds[phase] ?? 0));

interface Case {
  readonly strengths: readonly number[];
  readonly truth: number;
}

const [out = "", ...files] = process.argv.slice(2);
const sets = files.map((file) =>
  readFileSync(file, "utf8")
    .trim()
    .split("\n")
    .map((text) => JSON.parse(text) as Line)
    .filter(({ truth }) => truth.washer && truth.phase && truth.phase !== "unknown")
    .map(({ truth, phase }): Case => ({
      strengths: PHASE_SIGNS.map((sign) => phase.signs[sign.id] ?? 0),
      truth: KNOWN_PHASES.indexOf(truth.phase as KnownPhase),
    })),
);

function chances({ strengths }: Case, deltas: Float64Array): number[] {
  return softmax(
    PRIORS.map((prior, p) =>
      strengths.reduce((sum, strength, s) => {
        const at = s * KNOWN_PHASES.length + p;
        return sum + strength * (EXPERT[at]! + deltas[at]!);
      }, prior),
    ),
  );
}

function importance(cases: readonly Case[]): number[] {
  const wanted = softmax(PRIORS);
  const found = KNOWN_PHASES.map(
    (_, p) => cases.filter(({ truth }) => truth === p).length / cases.length,
  );
  const raw = cases.map(({ truth }) => Math.min(HEAVIEST, wanted[truth]! / found[truth]!));
  const mean = raw.reduce((a, b) => a + b, 0) / raw.length;
  return raw.map((weight) => weight / mean);
}

function fit(cases: readonly Case[]): Float64Array {
  const weights = importance(cases);
  const deltas = new Deltas(EXPERT.length);
  const moves = (i: number): boolean =>
    !LEFT_ALONE.includes(PHASE_SIGNS[Math.floor(i / KNOWN_PHASES.length)]!.id);
  for (let step = 0; step < STEPS; step++) {
    const gradient = deltas.value.map((delta) => delta / PRIOR_WIDTH ** 2);
    cases.forEach((one, n) => {
      chances(one, deltas.value).forEach((chance, p) => {
        const error = weights[n]! * (chance - (one.truth === p ? 1 : 0));
        one.strengths.forEach((strength, s) => {
          gradient[s * KNOWN_PHASES.length + p]! += error * strength;
        });
      });
    });
    deltas.step(gradient.map((g, i) => (moves(i) ? g : 0)));
  }
  return deltas.value;
}

function report(cases: readonly Case[], deltas: Float64Array): string {
  let right = 0;
  let nats = 0;
  for (const one of cases) {
    const chance = chances(one, deltas);
    if (chance.indexOf(Math.max(...chance)) === one.truth) right++;
    nats -= Math.log(Math.max(1e-4, chance[one.truth]!));
  }
  return `${right} of ${cases.length} right, ${(nats / cases.length).toFixed(3)} nats`;
}

const none = new Float64Array(EXPERT.length);
sets.forEach((cases, k) => {
  const others = sets.filter((_, i) => i !== k).flat();
  const learned = others.length > 0 ? report(cases, fit(others)) : "-";
  process.stdout.write(
    `${files[k]}: expert ${report(cases, none)}; from the other files ${learned}\n`,
  );
});
const deltas = fit(sets.flat());
process.stdout.write(`all: ${report(sets.flat(), deltas)}\n`);
const rows = PHASE_SIGNS.flatMap((sign, s) =>
  KNOWN_PHASES.flatMap((phase, p) => {
    const delta = Math.round(100 * deltas[s * KNOWN_PHASES.length + p]!) / 100;
    return Math.abs(delta) < 0.04 ? [] : [`  "${sign.id}/${phase}": ${delta},`];
  }),
);
writeFileSync(
  out,
  `/**
 * What the first and third generators add to the weights of the phase signs, in nats, each within ±1.
 * Keys: sign / phase. Made by tests/tools/tune-phase.ts from ${sets.flat().length} recordings with nothing told.
 */
export const LEARNED_PHASE_WEIGHTS: Readonly<Record<string, number>> = {
${rows.join("\n")}
};
`,
);
