/** A test as the planner sees it. */
export interface OrderItem {
  /** Minutes of the test itself. */
  readonly minutes: number;
  /** Access it needs, all the way down, one bit each. */
  readonly opens: number;
  /** Runs with everything closed, so that what is open must be closed first. */
  readonly closed: boolean;
  /** Chance that it finds the fault, by hypothesis: shape [chances.length], 0 to 1. */
  readonly finds: readonly number[];
}

/**
 * Tests to be done one after the other until one finds the fault.
 *
 * One fault is there; tests err independently. Access once opened stays open for later tests; a test
 * that runs with everything closed first costs the closing of what is open.
 */
export interface OrderProblem {
  /** Chance of each hypothesis. */
  readonly chances: readonly number[];
  /** Minutes to open, and to close, each access alone. */
  readonly accessMinutes: readonly number[];
  readonly items: readonly OrderItem[];
  /** What is open already, as bits. */
  readonly open: number;
}

export interface Step {
  /** Minutes with opening and closing. */
  readonly minutes: number;
  /** What is open afterwards. */
  readonly open: number;
}

/** Minutes for all accesses in `bits`. */
export function accessSum(accessMinutes: readonly number[], bits: number): number {
  let sum = 0;
  for (let i = 0; i < accessMinutes.length; i++) if (bits & (1 << i)) sum += accessMinutes[i]!;
  return sum;
}

/** What a test costs from a given state of opening. */
export function stepFrom(problem: OrderProblem, item: OrderItem, open: number): Step {
  if (item.closed)
    return { minutes: item.minutes + accessSum(problem.accessMinutes, open), open: 0 };
  const more = accessSum(problem.accessMinutes, item.opens & ~open);
  return { minutes: item.minutes + more, open: open | item.opens };
}

export const total = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0);

/** Chance of each hypothesis and not yet found, after the test has not found it. */
export const missed = (left: readonly number[], item: OrderItem): number[] =>
  left.map((chance, i) => chance * (1 - item.finds[i]!));

/** Sum of `missed`, which a search asks for far oftener than for its terms. */
export function missedTotal(left: readonly number[], { finds }: OrderItem): number {
  let sum = 0;
  for (let i = 0; i < left.length; i++) sum += left[i]! * (1 - finds[i]!);
  return sum;
}

/**
 * Expected minutes until the fault is found when tests are done in this order: Σ over tests of
 * (minutes of the step) · P(not found before it). A fault that no test finds pays for all of them.
 */
export function expectedMinutes(problem: OrderProblem, order: readonly number[]): number {
  let { open } = problem;
  let left: readonly number[] = problem.chances;
  let sum = 0;
  for (const index of order) {
    const item = problem.items[index]!;
    const step = stepFrom(problem, item, open);
    sum += step.minutes * total(left);
    left = missed(left, item);
    ({ open } = step);
  }
  return sum;
}
