import type { Choices } from "./profile.js";
import type { Component } from "./words.js";

/** Parts that every washer has, and the two answers that are always open. */
export const COMMON_PARTS: readonly Component[] = [
  "drum-bearing",
  "drain-pump",
  "suspension",
  "unbalanced-load",
  "levelling",
  "foreign-object",
  "loose-panel",
  "balance-ring",
  "inlet-valve",
  "controls",
  "normal",
  "other",
];

export const PUMP_VANES: Choices = {
  values: [6, 4, 5, 8, 7],
  source: "straight radial vanes that pump either way round, recalled",
  provenance: "from memory",
};

/** Stator slots and magnet poles of outer-rotor direct drives, most common first; recalled. */
export const SLOT_POLE_PAIRS_DIRECT: readonly (readonly [slots: number, poles: number])[] = [
  [36, 48],
  [36, 42],
  [36, 24],
  [27, 24],
  [36, 30],
  [27, 36],
  [24, 32],
  [42, 56],
];
