import type { FeatureId } from "../evidence/features.data.js";
import type { Component, Phase, Sourced } from "../machine/words.js";

/** Weights in nats of log-odds: positive speaks for a part, negative against it. */
export type Weights = Readonly<Partial<Record<Component, number>>>;

/** Observations that share a cause and so must not be counted as if independent. */
export type RuleGroup =
  | "turn"
  | "blow-shape"
  | "blow-speed"
  | "swing"
  | "drum-line"
  | "motor-line"
  | "gear-line"
  | "rough"
  | "tone"
  | "squeal"
  | "stroke"
  | "start"
  | "click"
  | "pump"
  | "ring"
  | "scaling"
  | "power";

/**
 * How a number becomes a degree of presence x in [0, 1].
 *
 * `above`: x = 1 / (1 + e^-((value - at) / width)); `below`: 1 minus that; `p`: the value is a p-value,
 * x = min(1, ln(1 / (-e p ln p)) / 4), so that no p-value counts for more than 4 nats of evidence.
 *
 * `at` and `width` are computed, not from the row's source: set where healthy and faulty sounds of the
 * generators part that weights are tuned on, and above what four real washers in order read (docs/validation.md).
 */
export type Presence =
  | { readonly form: "above"; readonly at: number; readonly width: number }
  | { readonly form: "below"; readonly at: number; readonly width: number }
  | { readonly form: "p" };

/** One row of the rule table: an observation, and what it speaks for and against. */
export interface Rule extends Sourced {
  /** Names the pattern heard, not the remedy. */
  readonly id: string;
  readonly feature: FeatureId;
  readonly presence: Presence;
  readonly group: RuleGroup;
  /** Phases in which the row applies; all when left out. */
  readonly phases?: readonly Phase[];
  /** Weights when the pattern is there (x = 1). */
  readonly present: Weights;
  /** Weights when it is looked for and is not there (x = 0). */
  readonly absent?: Weights;
  /**
   * Sentence for a technician when the pattern is there. `{name}` is filled from the measurement's
   * detail, `{value}` from its value.
   */
  readonly heard: string;
  /** Sentence when its absence matters. */
  readonly notHeard?: string;
  /** Why the pattern points there, in one clause. */
  readonly why: string;
}
