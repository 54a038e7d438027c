import type { Character, Component, Sourced } from "../../machine/words.js";

export interface CharacterLikelihoodRow extends Sourced {
  readonly component: Component;
  /** Chance that a technician would call the fault's sound so; rows sum to 1. */
  readonly sounds: Readonly<Record<Character, number>>;
}

const trade = {
  source: "words that the repair trade uses for the fault; shares are an expert estimate",
  provenance: "from memory",
} as const;

const row = (
  component: Component,
  grinding: number,
  whirring: number,
  thumping: number,
  squealing: number,
  rattling: number,
  humming: number,
  none: number,
): CharacterLikelihoodRow => ({
  component,
  sounds: { grinding, whirring, thumping, squealing, rattling, humming, none },
  ...trade,
});

/** Columns: grinding, whirring, thumping, squealing, rattling, humming, none (nothing unusual). */
export const CHARACTER_LIKELIHOOD: readonly CharacterLikelihoodRow[] = [
  row("drum-bearing", 0.5, 0.3, 0.04, 0.02, 0.06, 0.02, 0.06),
  row("drum-spider", 0.14, 0.03, 0.62, 0.02, 0.14, 0.01, 0.04),
  row("hub-nut", 0.04, 0.01, 0.55, 0.01, 0.34, 0.01, 0.04),
  row("drive-belt", 0.06, 0.05, 0.15, 0.44, 0.24, 0.01, 0.05),
  row("motor-pulley", 0.12, 0.27, 0.04, 0.05, 0.45, 0.02, 0.05),
  row("drum-pulley", 0.06, 0.03, 0.46, 0.02, 0.38, 0.01, 0.04),
  row("motor-bearing", 0.18, 0.58, 0.01, 0.12, 0.04, 0.03, 0.04),
  row("motor-brushes", 0.2, 0.16, 0.01, 0.05, 0.52, 0.02, 0.04),
  row("clutch-splines", 0.42, 0.03, 0.04, 0.02, 0.44, 0.01, 0.04),
  row("shift-actuator", 0.14, 0.04, 0.08, 0.02, 0.42, 0.24, 0.06),
  row("gear-case", 0.46, 0.38, 0.04, 0.02, 0.05, 0.02, 0.03),
  row("agitator-dogs", 0.08, 0.01, 0.12, 0.01, 0.73, 0.01, 0.04),
  row("motor-coupling", 0.12, 0.04, 0.12, 0.01, 0.66, 0.02, 0.03),
  row("drain-pump", 0.2, 0.06, 0.03, 0.05, 0.3, 0.32, 0.04),
  row("suspension", 0.01, 0.01, 0.86, 0.01, 0.07, 0.01, 0.03),
  row("counterweight", 0.01, 0.01, 0.86, 0.01, 0.07, 0.01, 0.03),
  row("unbalanced-load", 0.01, 0.02, 0.84, 0.01, 0.03, 0.02, 0.07),
  row("levelling", 0.01, 0.01, 0.6, 0.01, 0.32, 0.01, 0.04),
  row("shipping-bolts", 0.03, 0.01, 0.8, 0.01, 0.12, 0.01, 0.02),
  row("foreign-object", 0.26, 0.02, 0.1, 0.03, 0.54, 0.01, 0.04),
  row("loose-panel", 0.04, 0.08, 0.04, 0.02, 0.5, 0.28, 0.04),
  row("balance-ring", 0.03, 0.02, 0.6, 0.01, 0.24, 0.01, 0.09),
  row("rotor-stator", 0.4, 0.28, 0.1, 0.03, 0.13, 0.02, 0.04),
  row("door-boot", 0.03, 0.01, 0.01, 0.86, 0.04, 0.01, 0.04),
  row("inlet-valve", 0.02, 0.03, 0.12, 0.02, 0.04, 0.72, 0.05),
  row("controls", 0.01, 0.22, 0.04, 0.05, 0.54, 0.08, 0.06),
  row("drum-lifter", 0.02, 0.01, 0.42, 0.01, 0.5, 0.01, 0.03),
  row("spin-brake", 0.14, 0.02, 0.02, 0.74, 0.03, 0.01, 0.04),
  row("recirculation-pump", 0.14, 0.12, 0.01, 0.05, 0.2, 0.42, 0.06),
  row("normal", 0.02, 0.08, 0.03, 0.01, 0.03, 0.08, 0.75),
  row("other", 0.15, 0.15, 0.15, 0.1, 0.15, 0.1, 0.2),
];
