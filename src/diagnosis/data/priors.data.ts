import type { Component, Sourced } from "../../machine/words.js";

/** Kinds of washer that share a column of prior weights. */
export type PriorColumn = "front-load-belt" | "front-load-direct" | "top-load" | "top-load-older";

export interface PriorRow extends Sourced {
  readonly component: Component;
  /**
   * Relative weights when a customer complains of noise, by age: under 3 years, 3 to 7, 8 and more.
   * The older top loaders have one column for all ages.
   */
  readonly weights: Readonly<Record<PriorColumn, readonly [number, number, number]>>;
}

const guess = {
  source:
    "expert estimate of noise complaints; the order of bearings, dampers, brushes and pumps follows Tecchio, Ardente and Mathieux, J. Cleaner Production 215 (2019) 1112-1122",
  provenance: "from memory",
} as const;

type Ages = readonly [number, number, number];
const none: Ages = [0, 0, 0];
const row = (
  component: Component,
  belt: Ages,
  direct: Ages,
  top: Ages,
  older: number,
): PriorRow => ({
  component,
  weights: {
    "front-load-belt": belt,
    "front-load-direct": direct,
    "top-load": top,
    "top-load-older": [older, older, older],
  },
  ...guess,
});

export const PRIORS: readonly PriorRow[] = [
  row("drum-bearing", [3, 18, 32], [3, 22, 38], [2, 10, 18], 14),
  row("drum-spider", [0.5, 3, 7], [0.5, 4, 9], none, 0),
  row("hub-nut", [0.5, 1, 1], [0.5, 1, 1], [3, 5, 5], 4),
  row("drive-belt", [4, 8, 6], none, [3, 8, 8], 4),
  row("motor-pulley", [1, 1.5, 1.5], none, [1, 1.5, 1.5], 1),
  row("drum-pulley", [1, 1.5, 1.5], none, [1, 1.5, 1.5], 1),
  row("motor-bearing", [1, 3, 5], none, [1, 2, 3], 3),
  row("motor-brushes", [1, 6, 7], none, none, 0),
  row("clutch-splines", none, none, [4, 10, 8], 0.5),
  row("shift-actuator", none, none, [4, 8, 6], 0.5),
  row("gear-case", none, none, [3, 8, 12], 10),
  row("agitator-dogs", none, none, [2, 4, 4], 14),
  row("motor-coupling", none, none, none, 18),
  row("drain-pump", [15, 18, 14], [18, 20, 16], [11, 14, 13], 10),
  row("suspension", [2, 8, 8], [3, 9, 10], [5, 9, 9], 6),
  row("counterweight", [1, 2, 2], [1, 2, 2], none, 0),
  row("unbalanced-load", [18, 9, 4], [19, 10, 5], [20, 8, 4], 5),
  row("levelling", [16, 5, 2], [17, 6, 3], [14, 4, 2], 3),
  row("shipping-bolts", [9, 0.5, 0.1], [9, 0.5, 0.1], [1, 0.1, 0.1], 0.1),
  row("foreign-object", [8, 6, 4], [9, 7, 4], [5, 3, 2], 2),
  row("loose-panel", [6, 3, 2], [6, 3, 2], [5, 2, 1], 2),
  row("balance-ring", [0.5, 0.5, 0.5], [1, 1, 1], [1, 1.5, 2], 1),
  row("rotor-stator", none, [2, 6, 5], [0.5, 2, 2], 0),
  row("door-boot", [3, 2, 0.5], [3, 3, 0.5], none, 0),
  row("inlet-valve", [4, 2, 1], [4, 3, 1], [3, 2, 1], 1),
  row("controls", [1, 1, 1], [1, 1.5, 1.5], [1, 1, 1], 1),
  row("drum-lifter", [1, 1, 1], [1, 1.5, 1], none, 0),
  row("spin-brake", none, none, [0.5, 0.5, 0.5], 4),
  row("recirculation-pump", [1, 1, 1], [1, 1, 1], [1, 1, 1], 1),
];

/** Chance that the noise is one the machine should make, by age in years (upper bound, chance). */
export const NORMAL_PRIOR = {
  rows: [
    { belowYears: 1, chance: 0.4 },
    { belowYears: 3, chance: 0.3 },
    { belowYears: Infinity, chance: 0.25 },
  ],
  unknownAge: 0.3,
  source: "expert estimate; raised over the complaint share since recordings are also sent to ask",
  provenance: "from memory",
} as const;

/** Chance of a cause that is not in the list at all. */
export const OTHER_PRIOR = {
  chance: 0.05,
  source: "expert estimate",
  provenance: "from memory",
} as const;

/**
 * How far the prior weights are trusted: weight^exponent. They are guesses, so they count half in the
 * log domain; the sound decides.
 */
export const PRIOR_EXPONENT = {
  value: 0.5,
  source: "choice: prior weights are estimates without data behind them",
  provenance: "from memory",
} as const;

/** Share of complaints in each age class when the age is not told: under 3, 3 to 7, 8 and more. */
export const UNKNOWN_AGE_SHARES = {
  shares: [0.2, 0.4, 0.4],
  source: "expert estimate",
  provenance: "from memory",
} as const;

/** Least weight of a part that the machine has: what the column leaves out is rare, not impossible. */
export const RARE_WEIGHT = {
  value: 0.3,
  source: "choice",
  provenance: "from memory",
} as const;
