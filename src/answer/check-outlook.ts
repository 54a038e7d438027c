import { outcomeNamed, handTestNamed } from "../inspection/checks/hand-tests.js";
import { expectedChance, type PartChance } from "../inspection/checks/weigh-findings.js";
import type { Job } from "../inspection/job/job.js";
import { nextStep } from "../inspection/next-step/next-step.js";
import type { AdvisedCheck, NextStep } from "../inspection/next-step/next-step-answer.js";
import type { Washer } from "../machine/profile.js";

/** What one outcome of a check would do. */
export interface OutcomeOutlook {
  readonly outcome: string;
  /** Chance that the check turns out so. */
  readonly chance: number;
  /** Chances of the parts with this outcome, highest first. */
  readonly parts: readonly PartChance[];
  /** Check that would come next; null: none. */
  readonly next: string | null;
  /** Why one would stop then; null: go on. */
  readonly stop: string | null;
}

/** What the outcomes of one check would do, if it were done now. */
export interface CheckOutlook {
  readonly check: string;
  readonly outcomes: readonly OutcomeOutlook[];
}

// Stands in a job that is thrown away again.
const NEVER = "1970-01-01T00:00:00Z";

function outcomeOutlook(
  { check }: AdvisedCheck,
  outcome: string,
  now: { readonly job: Job; readonly washer: Washer; readonly answer: NextStep },
): OutcomeOutlook {
  const { job, washer, answer } = now;
  const found = { ...job, findings: [...job.findings, { check, outcome, at: NEVER }] };
  const then = nextStep(found, washer, { audience: answer.audience });
  const test = handTestNamed(check);
  return {
    outcome,
    chance: expectedChance({ test, outcome: outcomeNamed(test, outcome)! }, answer.components),
    parts: then.components.map(({ component, probability }) => ({ component, probability })),
    next: then.nextChecks[0]?.check ?? null,
    stop: then.stop?.text ?? null,
  };
}

/** Later checks change with what the earlier ones show: looked ahead is for this many. */
const LOOKED_AHEAD = 10;

/**
 * For the first checks of a plan, what each outcome would do to the chances and to the plan, each check
 * taken as if it were done next. Pure; costs about a tenth of a second a check.
 */
export const checkOutlooks = (job: Job, washer: Washer, answer: NextStep): CheckOutlook[] =>
  answer.nextChecks.slice(0, LOOKED_AHEAD).map((check) => ({
    check: check.check,
    outcomes: check.outcomes.map(({ outcome }) =>
      outcomeOutlook(check, outcome, { job, washer, answer }),
    ),
  }));
