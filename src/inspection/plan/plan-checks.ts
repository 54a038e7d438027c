import type { AccessRow, HandTest, Outcome } from "../checks/hand-test.js";
import { outcomeChance } from "../checks/hand-tests.js";
import type { MachineAccess } from "../checks/machine-access.js";
import { expectedChance, type PartChance } from "../checks/weigh-findings.js";
import { bestOrder } from "./best-order.js";
import { greedyOrder } from "./greedy-order.js";
import {
  missed,
  missedTotal,
  stepFrom,
  total,
  type OrderItem,
  type OrderProblem,
} from "./order-problem.js";

/** The exact search takes this many tests; what finds less comes after, in greedy order. */
const MOST_EXACT = 14;
/** A test that finds the fault less often than this is left out of the plan. */
const LEAST_FIND = 0.004;

export interface PlannedCheck {
  readonly test: HandTest;
  /** What has to be opened for it, in order; empty when it is open already or needs nothing. */
  readonly opens: readonly AccessRow[];
  /** It runs with everything closed, and something is open. */
  readonly closesFirst: boolean;
  /** Minutes with opening and closing. */
  readonly minutes: number;
  /** Chance that the fault is found by the end of this test. */
  readonly foundBy: number;
}

export interface CheckPlan {
  readonly checks: readonly PlannedCheck[];
  /** Expected minutes until the fault is found, when one of these tests finds it; 0 when none can. */
  readonly expectedMinutes: number;
  /** The order is proven best for the tests that find most. */
  readonly exact: boolean;
}

export interface PlanInput {
  readonly parts: readonly PartChance[];
  /** Tests that may be done and were not. */
  readonly tests: readonly HandTest[];
  readonly access: MachineAccess;
  /** What is open already, as bits of `access`. */
  readonly open: number;
}

function findsBy(
  test: HandTest,
  outcome: Outcome,
  part: PartChance,
  parts: readonly PartChance[],
): number {
  if (!outcome.points.includes(part.component)) return 0;
  const chance = outcomeChance(test, outcome, part.component);
  const anyhow = expectedChance({ test, outcome }, parts);
  return anyhow > 0 ? (chance * chance * part.probability) / anyhow : 0;
}

/**
 * Chance that the test finds a part that is at fault: Σ over outcomes that point at it of
 * P(outcome | part) · P(part | outcome). A perfect test of that part alone has 1; a test whose outcome
 * points at several parts shares its find among them by their chances.
 */
const findChances = (test: HandTest, parts: readonly PartChance[]): number[] =>
  parts.map((part) =>
    test.outcomes.reduce((sum, outcome) => sum + findsBy(test, outcome, part, parts), 0),
  );

/** The planner's view of tests and access. */
export function orderProblem({ parts, tests, access, open }: PlanInput): OrderProblem {
  return {
    chances: parts.map((part) => part.probability),
    accessMinutes: access.rows.map((row) => row.minutes),
    items: tests.map((test): OrderItem => ({
      minutes: test.minutes,
      opens: access.bitsOf(test.access),
      closed: test.power === "covers-on",
      finds: findChances(test, parts),
    })),
    open,
  };
}

/** Chance that the fault is found when every test worth doing is done, in whatever order. */
export function findableChance(problem: OrderProblem): number {
  const items = worthwhile(problem).map((i) => problem.items[i]!);
  return total(problem.chances) - total(items.reduce<readonly number[]>(missed, problem.chances));
}

/** Tests worth planning, those that find most first. */
function worthwhile(problem: OrderProblem): number[] {
  const gains = problem.items.map(
    (item) => total(problem.chances) - missedTotal(problem.chances, item),
  );
  return [...problem.items.keys()]
    .filter((i) => gains[i]! >= LEAST_FIND)
    .sort((a, b) => gains[b]! - gains[a]!);
}

/** The order of the tests and its cost; beyond the tests that find most, greedy goes on. */
function orderOf(problem: OrderProblem): { order: number[]; exact: boolean } {
  const kept = worthwhile(problem);
  const first = kept.slice(0, MOST_EXACT);
  const best = bestOrder({ ...problem, items: first.map((i) => problem.items[i]!) });
  const order = best.order.map((i) => first[i]!);
  const rest = kept.slice(MOST_EXACT);
  let { open, chances: left } = problem;
  for (const i of order) {
    ({ open } = stepFrom(problem, problem.items[i]!, open));
    left = missed(left, problem.items[i]!);
  }
  const later = greedyOrder({
    ...problem,
    chances: left,
    open,
    items: rest.map((i) => problem.items[i]!),
  });
  return { order: [...order, ...later.map((i) => rest[i]!)], exact: best.exact };
}

/** The order in which to check, with what each step costs and how likely it ends the search. */
export function planChecks(input: PlanInput): CheckPlan {
  const problem = orderProblem(input);
  const { order, exact } = orderOf(problem);
  const { access } = input;
  const checks: PlannedCheck[] = [];
  let { open, chances: left } = problem;
  let elapsed = 0;
  let weighted = 0;
  for (const index of order) {
    const item = problem.items[index]!;
    const step = stepFrom(problem, item, open);
    const before = total(left);
    left = missed(left, item);
    elapsed += step.minutes;
    weighted += elapsed * (before - total(left));
    checks.push({
      test: input.tests[index]!,
      opens: access.rowsOf(item.opens & ~open),
      closesFirst: item.closed && open !== 0,
      minutes: step.minutes,
      foundBy: total(problem.chances) - total(left),
    });
    ({ open } = step);
  }
  const found = checks.at(-1)?.foundBy ?? 0;
  return { checks, expectedMinutes: found > 0 ? weighted / found : 0, exact };
}
