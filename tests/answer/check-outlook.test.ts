import { describe, expect, it } from "vitest";
import { checkOutlooks } from "../../src/answer/check-outlook.js";
import { emptyJob, type Job } from "../../src/inspection/job/job.js";
import { addFinding } from "../../src/inspection/next-step/job-findings.js";
import { nextStep } from "../../src/inspection/next-step/next-step.js";
import { washerById } from "../../src/machine/washers.js";

const washer = washerById("front-load-belt-universal");
const job: Job = { ...emptyJob(), machine: { ageYears: 9 } };
const answer = nextStep(job, washer);
const outlooks = checkOutlooks(job, washer, answer);

describe("what the outcomes of a check would do", () => {
  it("is told for the first checks of the plan, in its order, for every outcome", () => {
    expect(outlooks.length).toBeGreaterThanOrEqual(3);
    outlooks.forEach(({ check, outcomes }, i) => {
      const planned = answer.nextChecks[i]!;
      expect(check).toBe(planned.check);
      expect(outcomes.map(({ outcome }) => outcome)).toEqual(
        planned.outcomes.map(({ outcome }) => outcome),
      );
    });
  });

  // Law of total probability: Kolmogorov, Foundations of the Theory of Probability (1933), chapter 1.
  it("has chances of outcomes that sum to one, and on average leaves each part where it was", () => {
    for (const { outcomes } of outlooks) {
      const sum = outcomes.reduce((total, { chance }) => total + chance, 0);
      expect(sum).toBeCloseTo(1, 6);
      for (const { component, probability } of answer.components) {
        const mean = outcomes.reduce(
          (total, { chance, parts }) =>
            total + chance * parts.find((part) => part.component === component)!.probability,
          0,
        );
        expect(Math.abs(mean - probability)).toBeLessThan(0.01);
      }
    }
  });

  it("is what really telling the outcome gives, and leaves the job as it was", () => {
    const { check, outcomes } = outlooks[0]!;
    for (const { outcome, parts, next, stop } of outcomes) {
      const told = addFinding(job, `${check}=${outcome}`, "2026-03-01T09:30:00Z");
      const then = nextStep(told, washer);
      expect(parts[0]!.component).toBe(then.components[0]!.component);
      expect(parts[0]!.probability).toBeCloseTo(then.components[0]!.probability, 9);
      expect(next).toBe(then.nextChecks[0]?.check ?? null);
      expect(stop).toBe(then.stop?.text ?? null);
    }
    expect(job.findings).toEqual([]);
  });
});
