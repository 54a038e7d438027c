import type { Component, Provenance } from "../../machine/words.js";
import type {
  AccessId,
  Audience,
  HandTest,
  MachineEnd,
  TestCautionId,
} from "../checks/hand-test.js";
import type { JobFinding } from "../job/job.js";
import type { StopReason } from "../plan/stop.js";
import type { Contradiction } from "./contradictions.js";
import type { Basis } from "./starting-chances.js";

/** A finding with what it means and which parts it moved, in nats. */
export interface ReadableFinding extends JobFinding {
  readonly reads: string;
  /** False for a test that could not be done and for one that was repeated later. */
  readonly counts: boolean;
  readonly for: readonly { readonly component: Component; readonly nats: number }[];
  readonly against: readonly { readonly component: Component; readonly nats: number }[];
}

/** One step of the plan. */
export interface AdvisedCheck {
  readonly check: string;
  readonly text: string;
  /** Minutes with opening and closing in this order of work. */
  readonly minutes: number;
  /** Minutes of the test alone. */
  readonly ownMinutes: number;
  readonly audience: Audience;
  readonly power: HandTest["power"];
  /** What has to be opened for it that is not open yet. */
  readonly opens: readonly {
    readonly access: AccessId;
    readonly words: string;
    readonly end: MachineEnd;
    readonly minutes: number;
  }[];
  /** It runs with all covers on, so that what is open must be closed first. */
  readonly closesFirst: boolean;
  readonly outcomes: readonly {
    readonly outcome: string;
    readonly reads: string;
    readonly points: readonly Component[];
  }[];
  readonly tools: readonly string[];
  readonly cautions: readonly TestCautionId[];
  /** Chance that the fault is found by the end of this check. */
  readonly foundBy: number;
  readonly source: string;
  readonly provenance: Provenance;
}

/** The answer of `next-check`, as printed by `--json`. */
export interface NextStep {
  readonly schema: "washer-noise/next-check@1";
  readonly machine: { readonly id: string; readonly label: string };
  readonly audience: Audience;
  readonly basis: { readonly from: Basis; readonly text: string };
  /** Sorted by the chance after all findings; sums to 1. `before`: without findings. */
  readonly components: readonly {
    readonly component: Component;
    readonly probability: number;
    readonly before: number;
  }[];
  readonly findings: readonly ReadableFinding[];
  readonly contradictions: readonly Contradiction[];
  /** Why no further check is advised; null: go on. */
  readonly stop: { readonly reason: StopReason; readonly text: string } | null;
  /** Where the machine is opened first; null when no check of the plan needs that. */
  readonly open: { readonly end: MachineEnd; readonly text: string } | null;
  readonly nextChecks: readonly AdvisedCheck[];
  /** Expected minutes in this order until the fault is found, when one of these checks finds it. */
  readonly expectedMinutes: number;
  /** The order is proven best, not merely good. */
  readonly exact: boolean;
  /** The check that best tells the two likeliest faults apart. */
  readonly separating: {
    readonly check: string;
    readonly between: readonly [Component, Component];
  } | null;
  readonly tools: readonly string[];
  readonly cautions: readonly string[];
}
