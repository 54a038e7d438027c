import type { Component } from "../machine/words.js";

export type ComparisonVerdict = "cured" | "better" | "unchanged" | "worse" | "cannot tell";

/** A value with its 90 % interval from resampling blocks of the recordings. */
export interface Spread {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** One observation that led to the diagnosis, before and after: a gain-free value. */
export interface ComparedFeature {
  readonly feature: string;
  readonly before: number | null;
  readonly after: number | null;
}

/** Whether the noise that led to the diagnosis is gone. */
export interface Comparison {
  readonly verdict: ComparisonVerdict;
  /** One or two sentences: what was found, or why nothing can be told and how to record so that it can. */
  readonly text: string;
  /** The part that led before. */
  readonly component: Component;
  /** Evidence for that part against a machine in order, nats: before, after, and by how much it fell. */
  readonly evidence: {
    readonly before: number;
    readonly after: number;
    readonly fall: Spread;
  } | null;
  readonly features: readonly ComparedFeature[];
}
