import type { Component, Phase, Sourced } from "../../machine/words.js";

export interface PhaseLikelihoodRow extends Sourced {
  readonly component: Component;
  /** Chance that the fault, where present, can be heard in the phase. 0 is floored when used. */
  readonly audible: Readonly<Record<Exclude<Phase, "unknown">, number>>;
  /** What is different on a top loader, whose basket hardly turns in the wash. */
  readonly vertical?: Readonly<Partial<Record<Exclude<Phase, "unknown">, number>>>;
}

const memory = {
  source: "expert estimate of how often the fault can be heard in each phase",
  provenance: "from memory",
} as const;

/**
 * Spin pools run-up and plateau (the larger of the two); a part with several faults takes the larger.
 */
export const PHASE_LIKELIHOOD: readonly PhaseLikelihoodRow[] = [
  {
    component: "drum-bearing",
    audible: { fill: 0, wash: 0.45, drain: 0, spin: 0.95, coast: 0.9, "hand-spin": 0.75 },
    vertical: { wash: 0.12 },
    ...memory,
  },
  {
    component: "drum-spider",
    audible: { fill: 0, wash: 0.7, drain: 0, spin: 0.9, coast: 0.6, "hand-spin": 0.7 },
    ...memory,
  },
  {
    component: "hub-nut",
    audible: { fill: 0, wash: 0.7, drain: 0, spin: 0.6, coast: 0.4, "hand-spin": 0.7 },
    ...memory,
  },
  {
    component: "drive-belt",
    audible: { fill: 0, wash: 0.55, drain: 0, spin: 0.85, coast: 0.5, "hand-spin": 0.35 },
    ...memory,
  },
  {
    component: "motor-pulley",
    audible: { fill: 0, wash: 0.6, drain: 0, spin: 0.8, coast: 0.7, "hand-spin": 0.3 },
    ...memory,
  },
  {
    component: "drum-pulley",
    audible: { fill: 0, wash: 0.6, drain: 0, spin: 0.8, coast: 0.7, "hand-spin": 0.7 },
    ...memory,
  },
  {
    component: "motor-bearing",
    audible: { fill: 0, wash: 0.5, drain: 0, spin: 0.95, coast: 0.9, "hand-spin": 0.4 },
    ...memory,
  },
  {
    component: "motor-brushes",
    audible: { fill: 0, wash: 0.8, drain: 0, spin: 0.8, coast: 0.2, "hand-spin": 0.2 },
    ...memory,
  },
  {
    component: "clutch-splines",
    audible: { fill: 0, wash: 0.4, drain: 0, spin: 0.45, coast: 0.2, "hand-spin": 0.3 },
    ...memory,
  },
  {
    component: "shift-actuator",
    audible: { fill: 0.05, wash: 0.4, drain: 0.2, spin: 0.6, coast: 0, "hand-spin": 0 },
    ...memory,
  },
  {
    component: "gear-case",
    audible: { fill: 0, wash: 0.95, drain: 0, spin: 0.1, coast: 0.1, "hand-spin": 0.4 },
    ...memory,
  },
  {
    component: "agitator-dogs",
    audible: { fill: 0, wash: 0.95, drain: 0, spin: 0.05, coast: 0, "hand-spin": 0.6 },
    ...memory,
  },
  {
    component: "motor-coupling",
    audible: { fill: 0, wash: 0.9, drain: 0.5, spin: 0.8, coast: 0.2, "hand-spin": 0.3 },
    ...memory,
  },
  {
    component: "drain-pump",
    audible: { fill: 0, wash: 0.03, drain: 0.95, spin: 0.5, coast: 0, "hand-spin": 0.1 },
    ...memory,
  },
  {
    component: "suspension",
    audible: { fill: 0, wash: 0.2, drain: 0, spin: 0.9, coast: 0.6, "hand-spin": 0.3 },
    ...memory,
  },
  {
    component: "counterweight",
    audible: { fill: 0, wash: 0.2, drain: 0, spin: 0.8, coast: 0.5, "hand-spin": 0.3 },
    ...memory,
  },
  {
    component: "unbalanced-load",
    audible: { fill: 0, wash: 0.05, drain: 0, spin: 0.9, coast: 0.5, "hand-spin": 0 },
    ...memory,
  },
  {
    component: "levelling",
    audible: { fill: 0, wash: 0.1, drain: 0, spin: 0.8, coast: 0.4, "hand-spin": 0.2 },
    ...memory,
  },
  {
    component: "shipping-bolts",
    audible: { fill: 0, wash: 0.3, drain: 0, spin: 0.95, coast: 0.7, "hand-spin": 0.5 },
    ...memory,
  },
  {
    component: "foreign-object",
    audible: { fill: 0, wash: 0.8, drain: 0.05, spin: 0.7, coast: 0.6, "hand-spin": 0.8 },
    ...memory,
  },
  {
    component: "loose-panel",
    audible: { fill: 0.1, wash: 0.1, drain: 0.2, spin: 0.7, coast: 0.5, "hand-spin": 0.2 },
    ...memory,
  },
  {
    component: "balance-ring",
    audible: { fill: 0, wash: 0.1, drain: 0, spin: 0.8, coast: 0.6, "hand-spin": 0.4 },
    ...memory,
  },
  {
    component: "rotor-stator",
    audible: { fill: 0, wash: 0.7, drain: 0, spin: 0.8, coast: 0.8, "hand-spin": 0.8 },
    ...memory,
  },
  {
    component: "door-boot",
    audible: { fill: 0, wash: 0.6, drain: 0, spin: 0.3, coast: 0.4, "hand-spin": 0.5 },
    ...memory,
  },
  {
    component: "inlet-valve",
    audible: { fill: 0.95, wash: 0.1, drain: 0, spin: 0, coast: 0, "hand-spin": 0 },
    ...memory,
  },
  {
    component: "controls",
    audible: { fill: 0.3, wash: 0.4, drain: 0.3, spin: 0.4, coast: 0, "hand-spin": 0 },
    ...memory,
  },
  {
    component: "drum-lifter",
    audible: { fill: 0, wash: 0.9, drain: 0, spin: 0.2, coast: 0.2, "hand-spin": 0.8 },
    ...memory,
  },
  {
    component: "spin-brake",
    audible: { fill: 0, wash: 0.1, drain: 0, spin: 0.5, coast: 0.5, "hand-spin": 0 },
    ...memory,
  },
  {
    component: "recirculation-pump",
    audible: { fill: 0, wash: 0.8, drain: 0.1, spin: 0, coast: 0, "hand-spin": 0 },
    ...memory,
  },
  {
    component: "normal",
    audible: { fill: 0.8, wash: 0.8, drain: 0.8, spin: 0.8, coast: 0.6, "hand-spin": 0.5 },
    ...memory,
  },
  {
    component: "other",
    audible: { fill: 0.3, wash: 0.5, drain: 0.3, spin: 0.6, coast: 0.4, "hand-spin": 0.4 },
    ...memory,
  },
];
