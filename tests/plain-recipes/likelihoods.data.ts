import type { Phase } from "../../src/machine/words.js";

/** P(audible in a phase | the part is at fault), run-up and plateau kept apart. */
export interface LikelihoodRow {
  id: string;
  fill: number;
  wash: number;
  drain: number;
  runUp: number;
  plateau: number;
  coast: number;
  hand: number;
  /** In the wash only where the drum itself turns. */
  tumbleOnly?: boolean;
  source: string;
  provenance: "from memory";
}

const row = (id: string, numbers: readonly number[], tumbleOnly = false): LikelihoodRow => {
  const [fill, wash, drain, runUp, plateau, coast, hand] = numbers as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  return {
    id,
    fill,
    wash,
    drain,
    runUp,
    plateau,
    coast,
    hand,
    tumbleOnly,
    source: "expert's prior of the trade, recalled; no published count is known",
    provenance: "from memory",
  };
};

/** Columns: fill, wash, drain, run-up, plateau, coast, by hand. */
export const LIKELIHOODS: readonly LikelihoodRow[] = [
  row("drum-bearing(early)", [0, 0.15, 0, 0.7, 0.9, 0.8, 0.4], true),
  row("drum-bearing(late)", [0, 0.7, 0, 0.95, 0.95, 0.95, 0.9], true),
  row("drum-spider", [0, 0.7, 0, 0.9, 0.6, 0.6, 0.7]),
  row("hub-nut", [0, 0.7, 0, 0.6, 0.2, 0.4, 0.7]),
  row("drive-belt(slip)", [0, 0.3, 0, 0.85, 0.3, 0.1, 0.2]),
  row("drive-belt(damage)", [0, 0.6, 0, 0.8, 0.8, 0.8, 0.5]),
  row("motor-pulley", [0, 0.6, 0, 0.8, 0.8, 0.7, 0.3]),
  row("drum-pulley", [0, 0.6, 0, 0.8, 0.7, 0.7, 0.7]),
  row("motor-bearing", [0, 0.5, 0, 0.9, 0.95, 0.9, 0.4]),
  row("motor-brushes", [0, 0.8, 0, 0.8, 0.7, 0.2, 0.2]),
  row("clutch-splines", [0, 0.3, 0, 0.8, 0.1, 0.2, 0.3]),
  row("shift-actuator", [0, 0.3, 0.2, 0.6, 0.05, 0, 0]),
  row("gear-case", [0, 0.95, 0, 0.1, 0.1, 0.1, 0.4]),
  row("agitator-dogs", [0, 0.95, 0, 0.05, 0, 0, 0.6]),
  row("motor-coupling", [0, 0.9, 0.5, 0.8, 0.6, 0.2, 0.3]),
  row("drain-pump(debris)", [0, 0, 0.95, 0.6, 0.3, 0, 0.4]),
  row("drain-pump(bearing)", [0, 0, 0.95, 0.5, 0.3, 0, 0.2]),
  row("drain-pump(air)", [0, 0, 0.9, 0.3, 0.2, 0, 0]),
  row("suspension", [0, 0.2, 0, 0.9, 0.15, 0.6, 0.3]),
  row("counterweight", [0, 0.2, 0, 0.8, 0.7, 0.5, 0.3]),
  row("unbalanced-load", [0, 0.05, 0, 0.9, 0.3, 0.5, 0]),
  row("levelling", [0, 0.1, 0, 0.8, 0.7, 0.4, 0.2]),
  row("shipping-bolts", [0, 0.3, 0, 0.95, 0.95, 0.7, 0.5]),
  row("foreign-object", [0, 0.8, 0.05, 0.7, 0.5, 0.6, 0.8], true),
  row("loose-panel", [0.1, 0.1, 0.2, 0.7, 0.6, 0.5, 0.2]),
  row("balance-ring", [0, 0.1, 0, 0.8, 0.4, 0.6, 0.4]),
  row("rotor-stator", [0, 0.7, 0, 0.8, 0.8, 0.8, 0.8]),
  row("door-boot", [0, 0.6, 0, 0.3, 0.05, 0.4, 0.5]),
  row("inlet-valve", [0.95, 0.1, 0, 0, 0, 0, 0]),
  row("controls", [0.3, 0.4, 0.3, 0.4, 0.3, 0, 0]),
  row("drum-lifter", [0, 0.9, 0, 0.2, 0, 0.2, 0.8]),
  row("spin-brake", [0, 0.1, 0, 0.5, 0, 0.5, 0]),
  row("recirculation-pump", [0, 0.8, 0.1, 0, 0, 0, 0]),
];

/** Below this a phase is not drawn. */
export const LEAST_LIKELIHOOD = 0.15;

type DrawnPhase = Exclude<Phase, "unknown">;
export const DRAWN_PHASES: readonly DrawnPhase[] = [
  "fill",
  "wash",
  "drain",
  "spin",
  "coast",
  "hand-spin",
];

/** Likelihood of a row in each phase; the spin counts as its better half. */
export function phaseLikelihood(from: LikelihoodRow, phase: DrawnPhase, vertical: boolean): number {
  if (phase === "wash" && vertical && from.tumbleOnly === true) return 0;
  const of: Record<DrawnPhase, number> = {
    fill: from.fill,
    wash: from.wash,
    drain: from.drain,
    spin: Math.max(from.runUp, from.plateau),
    coast: from.coast,
    "hand-spin": from.hand,
  };
  return of[phase];
}
