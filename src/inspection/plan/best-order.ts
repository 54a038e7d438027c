import { greedyOrder } from "./greedy-order.js";
import {
  accessSum,
  expectedMinutes,
  missed,
  missedTotal,
  stepFrom,
  total,
  type OrderProblem,
} from "./order-problem.js";

export interface BestOrder {
  /** Indices into the problem's tests. */
  readonly order: readonly number[];
  readonly expectedMinutes: number;
  /** False when the search was cut short: then the order is the best found, no worse than greedy. */
  readonly exact: boolean;
}

interface Node {
  readonly done: number;
  readonly open: number;
  readonly left: readonly number[];
  readonly cost: number;
  readonly order: readonly number[];
}

/** Bits fit one integer up to here. */
const MOST_TESTS = 24;
const DEFAULT_NODES = 60_000;
/** Differences below this are rounding. */
const TINY = 1e-9;

interface Candidate {
  readonly index: number;
  readonly gain: number;
  readonly minutes: number;
}

/** Tests not done yet with what each finds at most, best per minute of its own first. */
function candidates(problem: OrderProblem, node: Node): Candidate[] {
  const now = total(node.left);
  const rows: Candidate[] = [];
  problem.items.forEach((item, index) => {
    if (node.done & (1 << index)) return;
    rows.push({ index, gain: now - missedTotal(node.left, item), minutes: item.minutes });
  });
  return rows.sort((a, b) => b.gain * a.minutes - a.gain * b.minutes);
}

/**
 * A cost that no order of the remaining tests can stay under.
 *
 * What a test finds only shrinks as others are done before it, and opening costs nothing or more. So the
 * ratio rule on the tests' own minutes and present gains bounds the cost, and so does the area under the
 * fastest possible fall of the unfound chance, which never falls below what all tests together leave.
 */
function lowerBound(rows: readonly Candidate[], now: number, finalLeft: number): number {
  let level = now;
  let byRatio = 0;
  let area = 0;
  for (const { gain, minutes } of rows) {
    byRatio += minutes * level;
    const next = level - gain;
    if (next >= finalLeft) area += minutes * (level - gain / 2);
    else if (level <= finalLeft) area += minutes * finalLeft;
    else {
      const share = (level - finalLeft) / gain;
      area += minutes * (share * ((level + finalLeft) / 2) + (1 - share) * finalLeft);
    }
    level = next;
  }
  return Math.max(byRatio, area);
}

function openingLeft(problem: OrderProblem, node: Node): number {
  let needed = 0;
  problem.items.forEach((item, index) => {
    if (!(node.done & (1 << index))) needed |= item.opens;
  });
  return accessSum(problem.accessMinutes, needed & ~node.open);
}

class Search {
  private readonly problem: OrderProblem;
  private readonly finalLeft: number;
  private readonly seen = new Map<number, number>();
  private nodesLeft: number;
  best: readonly number[];
  bestCost: number;

  constructor(problem: OrderProblem, nodes: number) {
    this.problem = problem;
    this.nodesLeft = nodes;
    this.finalLeft = total(problem.items.reduce<readonly number[]>(missed, problem.chances));
    this.best = greedyOrder(problem);
    this.bestCost = expectedMinutes(problem, this.best);
  }

  /** Whether the whole tree was searched. */
  get complete(): boolean {
    return this.nodesLeft > 0;
  }

  /** Same tests done and same things open: only the cheapest way there can lead to the best order. */
  private reachedCheaper({ done, open, cost }: Node): boolean {
    const key = done * 2 ** this.problem.accessMinutes.length + open;
    const before = this.seen.get(key);
    if (before !== undefined && before <= cost + TINY) return true;
    this.seen.set(key, cost);
    return false;
  }

  explore(node: Node): void {
    if (this.nodesLeft <= 0) return;
    this.nodesLeft--;
    const { problem } = this;
    if (node.order.length === problem.items.length) {
      if (node.cost < this.bestCost - TINY) [this.best, this.bestCost] = [node.order, node.cost];
      return;
    }
    const rows = candidates(problem, node);
    const now = total(node.left);
    const rest =
      lowerBound(rows, now, this.finalLeft) + openingLeft(problem, node) * this.finalLeft;
    if (node.cost + rest >= this.bestCost - TINY || this.reachedCheaper(node)) return;
    for (const { index } of rows) {
      const item = problem.items[index]!;
      const step = stepFrom(problem, item, node.open);
      this.explore({
        done: node.done | (1 << index),
        open: step.open,
        left: missed(node.left, item),
        cost: node.cost + step.minutes * now,
        order: [...node.order, index],
      });
    }
  }
}

/**
 * The order of tests with the least expected minutes until the fault is found.
 *
 * Branch and bound over the order, with the greedy order as first answer, the ratio rule as bound and
 * dynamic programming's dominance (same tests done, same access open). Exact unless the search takes
 * more than `nodes` steps (default 60 000) or there are more than 24 tests; then no worse than greedy,
 * and `exact` is false.
 */
export function bestOrder(problem: OrderProblem, nodes = DEFAULT_NODES): BestOrder {
  const search = new Search(problem, problem.items.length > MOST_TESTS ? 0 : nodes);
  search.explore({ done: 0, open: problem.open, left: problem.chances, cost: 0, order: [] });
  return { order: search.best, expectedMinutes: search.bestCost, exact: search.complete };
}
