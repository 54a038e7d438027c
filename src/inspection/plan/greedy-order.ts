import { missed, missedTotal, stepFrom, total, type OrderProblem } from "./order-problem.js";

/**
 * Always the test that finds most per minute next, opening counted in full.
 *
 * With one fault, perfect tests of one part each and no shared access this is the best order: descending
 * p/t (W. E. Smith, Naval Research Logistics Quarterly 3 (1956) 59-66, from memory). With shared
 * access it is a good first guess that can be far off.
 */
export function greedyOrder(problem: OrderProblem): number[] {
  const order: number[] = [];
  const rest = new Set(problem.items.keys());
  let { open } = problem;
  let left: readonly number[] = problem.chances;
  while (rest.size > 0) {
    let best = -1;
    let bestRate = -Infinity;
    for (const index of rest) {
      const item = problem.items[index]!;
      const gain = total(left) - missedTotal(left, item);
      const rate = gain / Math.max(stepFrom(problem, item, open).minutes, 1e-9);
      if (rate > bestRate) [best, bestRate] = [index, rate];
    }
    rest.delete(best);
    order.push(best);
    const item = problem.items[best]!;
    ({ open } = stepFrom(problem, item, open));
    left = missed(left, item);
  }
  return order;
}
