import type { NextStep } from "../inspection/next-step/next-step-answer.js";

/** Number of the step that tells the two likeliest parts apart, from 1; null where it is the first, or not planned. */
export function laterSeparatingStep({ separating, nextChecks }: NextStep): number | null {
  const place = nextChecks.findIndex(({ check }) => check === separating?.check);
  return place < 1 ? null : place + 1;
}
