// Moves the rule table's weights towards what the first, third and fourth generators show, each by at most one
// nat (maximum a posteriori: the expert's weight is the centre of the prior), and fits a temperature for each
// class of recording. The second simulator is not for tuning: it gives the headline figures.
//   npm run build:tools && node .tools/tests/tools/tune-weights.js OUT.ts [--go-on] LINES.ndjson [LINES.ndjson ...]
// LINES come from hear-simulator. Of each file every fifth recording is held out for the temperature. With
// --go-on the centre is what earlier recordings taught instead, so that new ones add to it; the limit of one
// nat from the expert's weight holds all the same, and what the words for a sound rest on stays as it is.
import { readFileSync, writeFileSync } from "node:fs";
import { CHARACTER_BIAS, CHARACTER_RULES } from "../../src/diagnosis/data/character-rules.data.js";
import { whereOnePhaseWasChosen } from "../../src/diagnosis/chosen-phase.js";
import { CALIBRATION } from "../../src/diagnosis/data/calibration.data.js";
import { characterKey } from "../../src/diagnosis/character.js";
import { presenceOf } from "../../src/diagnosis/presence.js";
import { priorOf } from "../../src/diagnosis/prior.js";
import { audibleChance, say } from "../../src/diagnosis/audible.js";
import { CHARACTER_LIKELIHOOD } from "../../src/diagnosis/data/character-likelihood.data.js";
import { LEARNED } from "../../src/diagnosis/data/learned.data.js";
import { RULES } from "../../src/diagnosis/rules.js";
import type { KnownPhase } from "../../src/diagnosis/view.js";
import { Deltas, softmax } from "./fitting/deltas.js";
import type { Measurement } from "../../src/evidence/evidence.js";
import type { FeatureId } from "../../src/evidence/features.data.js";
import { washerById } from "../../src/machine/washers.js";
import {
  CHARACTERS,
  COMPONENTS,
  PHASES,
  type Character,
  type Component,
  type Phase,
} from "../../src/machine/words.js";

interface Line {
  readonly truth: {
    readonly washer: boolean;
    readonly machine?: string;
    readonly phase?: Phase;
    readonly faults: readonly Component[];
    readonly character?: Character;
  };
  readonly features: Readonly<Record<FeatureId, Measurement>>;
  readonly limited?: boolean;
  readonly quality: { readonly voiceCodec: boolean };
  readonly seconds: number;
}

const [out = "", ...rest] = process.argv.slice(2);
const goesOn = rest.includes("--go-on");
const files = rest.filter((word) => word !== "--go-on");
const STEPS = goesOn ? 150 : 400;
/** Words stay as they were: the fourth generator names one for each failure, whatever the phase. */
const CHARACTER_STEPS = goesOn ? 0 : STEPS;
/** Width of the prior round the expert's weights, or round those learned before, nats. */
const PRIOR_WIDTH = goesOn ? 0.3 : 0.6;
/** Where the prior stands, relative to the expert's weight. */
const centreOf = (key: string): number => (goesOn ? (LEARNED[key] ?? 0) : 0);

const lines = files
  .flatMap((file) => readFileSync(file, "utf8").trim().split("\n"))
  .map((text) => JSON.parse(text) as Line)
  .filter((line) => line.truth.washer && line.truth.phase && line.truth.phase !== "unknown");
/** As the program has it: a voice call, or too short for more. Poor recordings teach a temperature, no weights. */
const isPoor = (line: Line): boolean => line.quality.voiceCodec || line.seconds < 6;
const poor = lines.filter(isPoor);
const whole = lines.filter((line) => !isPoor(line));
const train = whole.filter((_, i) => i % 5 !== 4);
const held = whole.filter((_, i) => i % 5 === 4);

// Character: independent log-odds per word, normalised with `none` at zero, as in the program.
const HEARD = CHARACTERS.filter((c): c is Exclude<Character, "none"> => c !== "none");
const nRows = CHARACTER_RULES.length;
const characterDeltas = new Deltas(2 * nRows + HEARD.length);
const characterCentre = Float64Array.from([
  ...CHARACTER_RULES.flatMap((rule) => [
    centreOf(`${characterKey(rule)}/present`),
    centreOf(`${characterKey(rule)}/absent`),
  ]),
  ...HEARD.map((c) => centreOf(`bias/${c}`)),
]);
characterDeltas.value.set(characterCentre);

interface CharacterInput {
  readonly x: readonly (number | null)[];
  readonly q: readonly number[];
}
const characterInput = (line: Line): CharacterInput => ({
  x: CHARACTER_RULES.map((rule) => presenceOf(rule.presence, line.features[rule.feature])),
  q: CHARACTER_RULES.map((rule) => line.features[rule.feature]?.quality ?? 0),
});

function characterShares(input: CharacterInput, deltas: Float64Array): number[] {
  const scores = HEARD.map((c, h) => CHARACTER_BIAS[c] + deltas[2 * nRows + h]!);
  CHARACTER_RULES.forEach((rule, r) => {
    const x = input.x[r];
    if (x === null || x === undefined) return;
    const h = HEARD.indexOf(rule.character);
    scores[h]! +=
      input.q[r]! *
      (x * (rule.present + deltas[2 * r]!) + (1 - x) * (rule.absent + deltas[2 * r + 1]!));
  });
  return softmax([...scores, 0]);
}

const words: Character[] = [...HEARD, "none"];
{
  const inputs = train.map(characterInput);
  for (let step = 0; step < CHARACTER_STEPS; step++) {
    const gradient = new Float64Array(characterDeltas.value.length);
    train.forEach((line, n) => {
      const input = inputs[n]!;
      const shares = characterShares(input, characterDeltas.value);
      const truth = words.indexOf(line.truth.character ?? "none");
      HEARD.forEach((_, h) => {
        const error = shares[h]! - (truth === h ? 1 : 0);
        gradient[2 * nRows + h]! += error;
      });
      CHARACTER_RULES.forEach((rule, r) => {
        const x = input.x[r];
        if (x === null || x === undefined) return;
        const h = HEARD.indexOf(rule.character);
        const error = (shares[h]! - (truth === h ? 1 : 0)) * input.q[r]!;
        gradient[2 * r]! += error * x;
        gradient[2 * r + 1]! += error * (1 - x);
      });
    });
    characterDeltas.value.forEach((d, i) => {
      gradient[i]! += d / PRIOR_WIDTH ** 2;
    });
    characterDeltas.step(gradient);
  }
}

// Components.
const components = [...COMPONENTS];
const sounds = new Map(CHARACTER_LIKELIHOOD.map((row) => [row.component, row.sounds]));
const nC = components.length;
const groups = [...new Set(RULES.map((rule) => rule.group))];
const groupOf = RULES.map((rule) => groups.indexOf(rule.group));
const weight = (r: number, side: 0 | 1, c: number, deltas: Float64Array): number => {
  const rule = RULES[r]!;
  const expert = (side === 0 ? rule.present : rule.absent)?.[components[c]!] ?? 0;
  const sum = expert + deltas[(2 * r + side) * nC + c]!;
  return Math.max(-CALIBRATION.rowCap, Math.min(CALIBRATION.rowCap, sum));
};

interface Input {
  readonly allowed: readonly number[];
  readonly base: Float64Array;
  readonly shareOf: readonly number[];
  readonly rules: readonly { readonly r: number; readonly x: number; readonly trust: number }[];
  readonly truth: number;
  /** Place of the phase in `PHASES`. */
  readonly phase: number;
}
function inputOf(line: Line): Input {
  const machine = washerById(line.truth.machine!);
  const prior = whereOnePhaseWasChosen(priorOf(machine, {}), machine);
  const shares = characterShares(characterInput(line), characterDeltas.value);
  const base = new Float64Array(nC);
  const phase = line.truth.phase as KnownPhase;
  const shareOf = components.map((component) => say(audibleChance(component, phase, machine)));
  components.forEach((component, c) => {
    const likelihood = words.reduce((sum, w, i) => sum + sounds.get(component)![w] * shares[i]!, 0);
    base[c] =
      Math.log(prior.get(component) ?? 1e-9) +
      Math.log(Math.min(audibleChance(component, phase, machine), 1 - CALIBRATION.phaseFloor)) +
      CALIBRATION.characterWeight * Math.log(Math.max(likelihood, 1e-4) * words.length);
  });
  const rules = RULES.flatMap((rule, r) => {
    if (rule.phases && !rule.phases.includes(phase)) return [];
    const measurement = line.features[rule.feature];
    const x = presenceOf(rule.presence, measurement);
    return x === null ? [] : [{ r, x, trust: measurement!.quality }];
  });
  return {
    allowed: components.flatMap((component, c) => (prior.has(component) ? [c] : [])),
    base,
    shareOf,
    rules,
    truth: components.indexOf(line.truth.faults[0] ?? "normal"),
    phase: PHASES.indexOf(phase),
  };
}

/** Scores as in the program: rows tempered by group. Also returns each group's factor. */
function scoresOf(
  input: Input,
  deltas: Float64Array,
): { scores: number[]; factors: Float64Array[] } {
  const factors: Float64Array[] = [];
  const scores = input.allowed.map((c) => {
    const size = new Float64Array(groups.length);
    const squares = new Float64Array(groups.length);
    const sum = new Float64Array(groups.length);
    for (const { r, x, trust } of input.rules) {
      const nats =
        input.shareOf[c]! *
        trust *
        (x * weight(r, 0, c, deltas) + (1 - x) * weight(r, 1, c, deltas));
      const g = groupOf[r]!;
      size[g]! += Math.abs(nats);
      squares[g]! += nats * nats;
      sum[g]! += nats;
    }
    const factor = new Float64Array(groups.length);
    let score = input.base[c]!;
    for (let g = 0; g < groups.length; g++) {
      if (squares[g] === 0) {
        factor[g] = 1;
        continue;
      }
      const n = size[g]! ** 2 / squares[g]!;
      factor[g] = 1 / (1 + (n - 1) * CALIBRATION.groupCorrelation);
      const capped = Math.max(
        -CALIBRATION.groupCap,
        Math.min(CALIBRATION.groupCap, sum[g]! * factor[g]!),
      );
      score += capped;
    }
    factors.push(factor);
    return score;
  });
  return { scores, factors };
}

const deltas = new Deltas(2 * RULES.length * nC);
const centre = Float64Array.from(
  RULES.flatMap((rule) =>
    (["present", "absent"] as const).flatMap((side) =>
      components.map((component) => centreOf(`${rule.id}/${side}/${component}`)),
    ),
  ),
);
deltas.value.set(centre);
// The simulator draws its faults, and machines in order, in each phase as often as it likes. This takes up
// the difference from the prior, so that the weights need not; it is thrown away afterwards.
const baseRates = new Deltas(PHASES.length * nC, 4);
// Machines in order sound in more ways than any simulator draws: their row stays the expert's.
const normal = components.indexOf("normal");
const inputs = train.map(inputOf);
for (let step = 0; step < STEPS; step++) {
  const gradient = new Float64Array(deltas.value.length);
  const rateGradient = new Float64Array(baseRates.value.length);
  for (const input of inputs) {
    const { scores, factors } = scoresOf(input, deltas.value);
    const p = softmax(
      scores.map((score, i) => score + baseRates.value[input.phase * nC + input.allowed[i]!]!),
    );
    input.allowed.forEach((c, i) => {
      const error = p[i]! - (c === input.truth ? 1 : 0);
      rateGradient[input.phase * nC + c]! += error;
      for (const { r, x, trust } of input.rules) {
        const g = error * input.shareOf[c]! * trust * factors[i]![groupOf[r]!]!;
        gradient[2 * r * nC + c]! += g * x;
        gradient[(2 * r + 1) * nC + c]! += g * (1 - x);
      }
    });
  }
  deltas.value.forEach((d, i) => {
    gradient[i] = i % nC === normal ? 0 : gradient[i]! + (d - centre[i]!) / PRIOR_WIDTH ** 2;
  });
  deltas.step(gradient);
  baseRates.value.forEach((d, c) => {
    rateGradient[c]! += d / 4;
  });
  baseRates.step(rateGradient);
}

function report(name: string, set: readonly Line[], weights: Float64Array): void {
  let top1 = 0;
  let top3 = 0;
  let character = 0;
  for (const line of set) {
    const input = inputOf(line);
    const { scores } = scoresOf(input, weights);
    const order = input.allowed.map((c, i) => [scores[i]!, c] as const).sort((a, b) => b[0] - a[0]);
    const place = order.findIndex(([, c]) => c === input.truth);
    if (place === 0) top1++;
    if (place >= 0 && place < 3) top3++;
    const shares = characterShares(characterInput(line), characterDeltas.value);
    if (words[shares.indexOf(Math.max(...shares))] === line.truth.character) character++;
  }
  const n = set.length;
  const percent = (k: number): string => `${((100 * k) / n).toFixed(1)} %`;
  process.stdout.write(
    `${name}: n ${n}, top-1 ${percent(top1)}, top-3 ${percent(top3)}, character ${percent(character)}\n`,
  );
}
const none = new Float64Array(deltas.value.length);
const tunedCharacter = Float64Array.from(characterDeltas.value);
characterDeltas.value.fill(0);
report("expert weights, held out", held, none);
if (goesOn) {
  characterDeltas.value.set(characterCentre);
  report("weights before, held out", held, centre);
}
characterDeltas.value.set(tunedCharacter);
report("tuned weights, trained on", train, deltas.value);
report("tuned weights, held out", held, deltas.value);

// Temperature by the likelihood of the held-out recordings, per class of recording.
function temperatureOf(set: readonly Line[]): { t: number; nll: number } {
  const scored = set.map((line) => {
    const input = inputOf(line);
    return { input, scores: scoresOf(input, deltas.value).scores };
  });
  let best = { t: 1, nll: Infinity };
  for (let t = 0.6; t < 3; t += 0.05) {
    let nll = 0;
    for (const { input, scores } of scored) {
      const p = softmax(scores.map((s) => s / t));
      const i = input.allowed.indexOf(input.truth);
      nll -= Math.log(Math.max(1e-6, i < 0 ? 1e-6 : p[i]!));
    }
    if (nll < best.nll) best = { t, nll };
  }
  return best;
}
for (const [name, set] of [
  ["all", held],
  ["good", held.filter(({ limited }) => limited !== true)],
  ["limited", held.filter(({ limited }) => limited === true)],
  ["poor", poor],
] as const) {
  const { t, nll } = temperatureOf(set);
  process.stdout.write(
    `temperature, ${name} recordings: ${t.toFixed(2)} (n ${set.length}, mean NLL ${(nll / set.length).toFixed(3)})\n`,
  );
}

const entries: string[] = [];
const add = (key: string, value: number): void => {
  if (Math.abs(value) >= 0.04) entries.push(`  ${JSON.stringify(key)}: ${value.toFixed(2)},`);
};
RULES.forEach((rule, r) => {
  (["present", "absent"] as const).forEach((side, s) => {
    components.forEach((component, c) => {
      add(`${rule.id}/${side}/${component}`, deltas.value[(2 * r + s) * nC + c]!);
    });
  });
});
CHARACTER_RULES.forEach((rule, r) => {
  add(`${characterKey(rule)}/present`, characterDeltas.value[2 * r]!);
  add(`${characterKey(rule)}/absent`, characterDeltas.value[2 * r + 1]!);
});
HEARD.forEach((c, h) => {
  add(`bias/${c}`, characterDeltas.value[2 * nRows + h]!);
});
writeFileSync(
  out,
  `/**
 * What tuning on the first, third and fourth generators adds to the expert weights, in nats, each within ±1.
 * Keys: rule id / present or absent / component; character / feature / form / at / side; bias / character.
 * Made by tests/tools/tune-weights.ts from ${whole.length} recordings${goesOn ? " beyond those before" : ""}; see docs/validation.md.
 */
export const LEARNED: Readonly<Record<string, number>> = {
${entries.join("\n")}
};
`,
);
