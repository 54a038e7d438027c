import type { CheckOutlook } from "../../answer/check-outlook.js";
import type { NextStep } from "../../inspection/next-step/next-step-answer.js";
import type { Visit } from "../../inspection/parts/visit.js";

export interface NextCheckPageInput {
  readonly answer: NextStep;
  /** What each outcome of the first checks would do. */
  readonly outlooks: readonly CheckOutlook[];
  /** Parts to bring and repair or replace; null for a customer. */
  readonly visit: Visit | null;
  /** Path of the job file, as it was named. */
  readonly job: string;
  /** What the owner said of the noise, in the owner's words. */
  readonly complaint?: string;
}
