import type { HandTest } from "../checks/hand-test.js";
import { findingNats, type KnownFinding, type PartChance } from "../checks/weigh-findings.js";
import { STOP_LIMITS } from "../data/stop.data.js";

/**
 * Why no further test is advised.
 *
 * `found`: a finding points at the part, and it is likely enough. `in-order`: likely a sound the machine
 * should make. `settled`: whatever the remaining tests show, the same part stays first. `too-little`:
 * the remaining tests would hardly ever find the fault. `nothing-left`: all were done.
 */
export type StopReason = "found" | "in-order" | "settled" | "too-little" | "nothing-left";

export interface StopInput {
  readonly parts: readonly PartChance[];
  readonly findings: readonly KnownFinding[];
  /** Tests that may still be done. */
  readonly tests: readonly HandTest[];
  /** Chance that all of them together find the fault. */
  readonly findable: number;
}

/** Whether some mix of outcomes of the remaining tests could put another part first. */
function canChange(parts: readonly PartChance[], tests: readonly HandTest[]): boolean {
  const components = parts.map((part) => part.component);
  const [first, ...rivals] = parts;
  return rivals.some((rival) => {
    let gap = Math.log(Math.max(rival.probability, 1e-12) / first!.probability);
    for (const test of tests) {
      const swings = test.outcomes.map(
        (outcome) =>
          findingNats({ test, outcome }, rival.component, components) -
          findingNats({ test, outcome }, first!.component, components),
      );
      gap += Math.max(0, ...swings);
    }
    return gap >= 0;
  });
}

/** Whether and why to stop; null: go on. */
export function stopReason({ parts, findings, tests, findable }: StopInput): StopReason | null {
  const first = parts[0]!;
  const sure = first.probability >= STOP_LIMITS.foundFrom;
  const pointed = findings.some(({ outcome }) => outcome.points.includes(first.component));
  if (sure && pointed) return "found";
  if (sure && first.component === "normal") return "in-order";
  if (tests.length === 0) return "nothing-left";
  if (!canChange(parts, tests)) return "settled";
  return findable < STOP_LIMITS.leastFind ? "too-little" : null;
}
