// Mean minutes until the fault is found: the planner against the fixed order of inspection and against
// simple rules, on simulated cases. The outcomes of the tests are drawn from chances that differ from
// the planner's own table, and the ranking it starts from is noisy.
//
//   npm run build:tools
//   node .tools/tests/tools/plan-minutes.js [cases per machine, 400] [seed, 1] [shift of chances, 0.7]
import { priorOf } from "../../src/diagnosis/prior.js";
import { createRandom, type Random } from "../../src/foundation/random.js";
import type { HandTest, Outcome } from "../../src/inspection/checks/hand-test.js";
import { outcomeChance } from "../../src/inspection/checks/hand-tests.js";
import { accessOf, axisOf } from "../../src/inspection/checks/machine-access.js";
import { mayDo, testsForWasher } from "../../src/inspection/checks/machine-fit.js";
import {
  expectedChance,
  weighFindings,
  type KnownFinding,
  type PartChance,
} from "../../src/inspection/checks/weigh-findings.js";
import { greedyOrder } from "../../src/inspection/plan/greedy-order.js";
import { stepFrom, type OrderProblem } from "../../src/inspection/plan/order-problem.js";
import {
  findableChance,
  orderProblem,
  planChecks,
  type PlanInput,
} from "../../src/inspection/plan/plan-checks.js";
import { stopReason } from "../../src/inspection/plan/stop.js";
import type { Washer } from "../../src/machine/profile.js";
import { washerById } from "../../src/machine/washers.js";
import { MACHINE_PROFILES, type Component } from "../../src/machine/words.js";

/** The trade's usual order, cheapest access first, whatever the sound says. */
const FIXED_ORDER = [
  "look-for-shipping-bolts",
  "rock-the-corners",
  "pump-filter",
  "pump-impeller",
  "turn-drum-with-torch",
  "lifter-by-hand",
  "wet-the-boot",
  "drum-rock",
  "hub-by-hand",
  "tub-bounce",
  "hand-spin",
  "agitator-twist",
  "ring-shake",
  "empty-spin",
  "drain-only",
  "press-the-panels",
  "stop-and-listen",
  "listen-at-the-control",
  "valve-tap-closed",
  "pump-flow",
  "belt-look",
  "pulley-run-out",
  "tap-the-weights",
  "damper-stroke",
  "belt-off-spin",
  "motor-by-hand",
  "brush-length",
  "pump-coil",
  "valve-coil",
  "winding-readings",
  "clutch-slider",
  "shifter-coil",
  "shifter-position",
  "coupling-look",
  "gear-case-by-hand",
  "brake-look",
  "recirculation-hose",
  "rotor-off",
  "rotor-off-spin",
];

type Chooser = (input: PlanInput) => HandTest | undefined;

const byFixedOrder: Chooser = ({ tests }) =>
  [...tests].sort((a, b) => FIXED_ORDER.indexOf(a.check) - FIXED_ORDER.indexOf(b.check))[0];

/** The same order, but passing over what can hardly find anything by now. */
const byFixedOrderSkipping: Chooser = (input) => {
  const problem = orderProblem(input);
  const gains = problem.items.map((item) =>
    item.finds.reduce((sum, find, i) => sum + find * problem.chances[i]!, 0),
  );
  return byFixedOrder({ ...input, tests: input.tests.filter((_, i) => gains[i]! >= 0.01) });
};

const byGreedy: Chooser = (input) => input.tests[greedyOrder(orderProblem(input))[0]!];

const entropyBits = (parts: readonly PartChance[]): number =>
  parts.reduce((sum, { probability: p }) => (p > 0 ? sum - p * Math.log2(p) : sum), 0);

/** Most bits per minute, half a minute added to each test. */
const byBits: Chooser = (input) => {
  const problem = orderProblem(input);
  const now = entropyBits(input.parts);
  let best = -1;
  let bestRate = -Infinity;
  input.tests.forEach((test, i) => {
    let left = 0;
    for (const outcome of test.outcomes) {
      const finding = { test, outcome };
      left +=
        expectedChance(finding, input.parts) * entropyBits(weighFindings(input.parts, [finding]));
    }
    const { minutes } = stepFrom(problem, problem.items[i]!, input.open);
    const rate = (now - left) / (minutes + 0.5);
    if (rate > bestRate) [best, bestRate] = [i, rate];
  });
  return input.tests[best];
};

const byPlan: Chooser = (input) => planChecks(input).checks[0]?.test;

interface Policy {
  readonly choose: Chooser;
  /** By how much less than advised may be left to find before it gives up. */
  readonly patience: number;
}

const POLICIES: Readonly<Record<string, Policy>> = {
  "fixed order": { choose: byFixedOrder, patience: 1 },
  "fixed order, skipping": { choose: byFixedOrderSkipping, patience: 1 },
  "greedy, finds per minute": { choose: byGreedy, patience: 1 },
  "greedy, bits per minute": { choose: byBits, patience: 1 },
  plan: { choose: byPlan, patience: 1 },
  "plan, patient": { choose: byPlan, patience: 10 },
};

interface Case {
  readonly washer: Washer;
  readonly truth: Component;
  readonly sound: readonly PartChance[];
  /** The outcome that each test would have in this case. */
  readonly outcomes: ReadonlyMap<string, Outcome>;
}

function drawIndex(random: Random, weights: readonly number[]): number {
  let at = random.uniform() * weights.reduce((a, b) => a + b, 0);
  for (let i = 0; i < weights.length; i++) {
    at -= weights[i]!;
    if (at < 0) return i;
  }
  return weights.length - 1;
}

/** What the sound says: ln prior + separation·[truth] + noise, one and the same spread for all parts. */
function drawSound(
  random: Random,
  prior: ReadonlyMap<Component, number>,
  truth: Component,
): PartChance[] {
  const separation = 1.4;
  const scores = [...prior].map(
    ([component, chance]) =>
      Math.log(chance) + separation * (random.normal() + (component === truth ? separation : 0)),
  );
  const most = Math.max(...scores);
  const sum = scores.reduce((a, score) => a + Math.exp(score - most), 0);
  return [...prior.keys()]
    .map((component, i) => ({ component, probability: Math.exp(scores[i]! - most) / sum }))
    .sort((a, b) => b.probability - a.probability);
}

/** An outcome from the table's chances, each shifted on the log-odds scale. */
function drawOutcome(random: Random, test: HandTest, truth: Component, shift: number): Outcome {
  const weights = test.outcomes.map((outcome) => {
    const p = Math.min(0.995, Math.max(0.005, outcomeChance(test, outcome, truth)));
    return 1 / (1 + Math.exp(-(Math.log(p / (1 - p)) + shift * random.normal())));
  });
  return test.outcomes[drawIndex(random, weights)]!;
}

function drawCase(random: Random, washer: Washer, shift: number): Case {
  const prior = priorOf(washer, {});
  const faults = [...prior].filter(([part]) => part !== "normal" && part !== "other");
  const truth =
    faults[
      drawIndex(
        random,
        faults.map(([, chance]) => chance),
      )
    ]![0];
  const sound = drawSound(random, prior, truth);
  const outcomes = new Map(
    testsForWasher(washer).map((test) => [test.check, drawOutcome(random, test, truth, shift)]),
  );
  return { washer, truth, sound, outcomes };
}

interface Visit {
  readonly minutes: number;
  readonly hit: boolean;
  readonly tests: number;
}

/** Tests, one after the other as the chooser says, until the search stops. */
function visit({ washer, truth, sound, outcomes }: Case, { choose, patience }: Policy): Visit {
  const access = accessOf(axisOf(washer)!);
  const findings: KnownFinding[] = [];
  let tests = testsForWasher(washer).filter((test) => mayDo(test, "technician"));
  let open = 0;
  let minutes = 0;
  for (;;) {
    const parts = weighFindings(sound, findings);
    const input: PlanInput = { parts, tests, access, open };
    // The same rule ends every visit, so that only the order differs.
    const findable = findableChance(orderProblem(input));
    const stop = stopReason({ parts, findings, tests, findable: findable * patience });
    const next = stop === null ? choose(input) : undefined;
    if (next === undefined) {
      return { minutes, hit: parts[0]!.component === truth, tests: findings.length };
    }
    const problem: OrderProblem = orderProblem({ ...input, tests: [next] });
    const step = stepFrom(problem, problem.items[0]!, open);
    minutes += step.minutes;
    ({ open } = step);
    findings.push({ test: next, outcome: outcomes.get(next.check)! });
    tests = tests.filter((test) => test !== next);
  }
}

const mean = (values: readonly number[]): number =>
  values.reduce((a, b) => a + b, 0) / values.length;

/** Half the width of a 95 % interval of the mean. */
const halfWidth = (values: readonly number[]): number => {
  const middle = mean(values);
  return 1.96 * Math.sqrt(mean(values.map((v) => (v - middle) ** 2)) / values.length);
};

function main(): void {
  const [count = 400, seed = 1, shift = 0.7] = process.argv.slice(2).map(Number);
  const out = (text: string): void => void process.stdout.write(`${text}\n`);
  const all = new Map(Object.keys(POLICIES).map((name) => [name, [] as Visit[]]));
  out(`mean minutes: ${Object.keys(POLICIES).join(" | ")}`);
  let topOne = 0;
  let cases = 0;
  for (const machine of MACHINE_PROFILES) {
    const random = createRandom(seed).fork(machine);
    const washer = washerById(machine);
    const own = new Map(Object.keys(POLICIES).map((name) => [name, [] as Visit[]]));
    for (let i = 0; i < count; i++) {
      const one = drawCase(random, washer, shift);
      cases++;
      if (one.sound[0]!.component === one.truth) topOne++;
      for (const [name, policy] of Object.entries(POLICIES))
        own.get(name)!.push(visit(one, policy));
    }
    for (const [name, visits] of own) all.get(name)!.push(...visits);
    const cells = [...own.values()].map((visits) =>
      mean(visits.map((visit) => visit.minutes))
        .toFixed(1)
        .padStart(6),
    );
    out(`${machine.padEnd(26)} ${cells.join(" ")}`);
  }
  out(
    `\n${cases} cases, the sound alone has the part on top in ${((100 * topOne) / cases).toFixed(1)} %`,
  );
  const fixed = all.get("fixed order")!;
  for (const [name, visits] of all) {
    const saved = visits.map((v, i) => fixed[i]!.minutes - v.minutes);
    const minutes = visits.map((v) => v.minutes);
    const hit = mean(visits.map((v) => Number(v.hit)));
    out(
      `${name.padEnd(26)} ${mean(minutes).toFixed(1)} min ± ${halfWidth(minutes).toFixed(1)}, ` +
        `hits alone ${mean(visits.filter((v) => v.hit).map((v) => v.minutes)).toFixed(1)} min, ` +
        `${mean(visits.map((v) => v.tests)).toFixed(1)} tests, right part ${(100 * hit).toFixed(1)} %, ` +
        `saves ${((100 * mean(saved)) / mean(fixed.map((v) => v.minutes))).toFixed(1)} % ` +
        `(${mean(saved).toFixed(1)} ± ${halfWidth(saved).toFixed(1)} min)`,
    );
  }
}

main();
