import type { Component, Sourced } from "../../machine/words.js";

export type MachineEnd =
  "outside" | "inside the drum" | "front, low" | "rear" | "top" | "underneath";

/** From which end a part is reached, and what its repair takes. */
export interface OpeningRow extends Sourced {
  readonly component: Component;
  /** In a front loader, and in a top loader. */
  readonly frontLoader: MachineEnd;
  readonly topLoader: MachineEnd;
  /** What is small enough to bring on suspicion; null: order after the hand test. */
  readonly bring: string | null;
}

const trade = { source: "common practice, no source", provenance: "common practice" } as const;

export const OPENING: readonly OpeningRow[] = [
  {
    component: "drum-bearing",
    frontLoader: "rear",
    topLoader: "underneath",
    bring: "bearings, seal and grease as a set, only after the hand test",
    ...trade,
  },
  { component: "drum-spider", frontLoader: "rear", topLoader: "underneath", bring: null, ...trade },
  {
    component: "hub-nut",
    frontLoader: "rear",
    topLoader: "underneath",
    bring: "hub nut or drive block",
    ...trade,
  },
  {
    component: "drive-belt",
    frontLoader: "rear",
    topLoader: "underneath",
    bring: "belt to the machine's type plate",
    ...trade,
  },
  {
    component: "motor-pulley",
    frontLoader: "rear",
    topLoader: "underneath",
    bring: "motor pulley, locking compound",
    ...trade,
  },
  {
    component: "drum-pulley",
    frontLoader: "rear",
    topLoader: "underneath",
    bring: "pulley bolt, thread lock",
    ...trade,
  },
  {
    component: "motor-bearing",
    frontLoader: "rear",
    topLoader: "underneath",
    bring: "motor bearings",
    ...trade,
  },
  {
    component: "motor-brushes",
    frontLoader: "rear",
    topLoader: "underneath",
    bring: "a pair of brushes",
    ...trade,
  },
  {
    component: "clutch-splines",
    frontLoader: "rear",
    topLoader: "underneath",
    bring: "clutch with spring, silicone grease",
    ...trade,
  },
  {
    component: "shift-actuator",
    frontLoader: "rear",
    topLoader: "underneath",
    bring: "mode shifter, meter",
    ...trade,
  },
  { component: "gear-case", frontLoader: "rear", topLoader: "underneath", bring: null, ...trade },
  {
    component: "agitator-dogs",
    frontLoader: "top",
    topLoader: "inside the drum",
    bring: "set of agitator dogs, long socket",
    ...trade,
  },
  {
    component: "motor-coupling",
    frontLoader: "rear",
    topLoader: "underneath",
    bring: "motor coupling",
    ...trade,
  },
  {
    component: "drain-pump",
    frontLoader: "front, low",
    topLoader: "underneath",
    bring: "pump with hose clamp, tray, towels",
    ...trade,
  },
  {
    component: "suspension",
    frontLoader: "front, low",
    topLoader: "top",
    bring: "dampers or rods as a set, spring hook",
    ...trade,
  },
  {
    component: "counterweight",
    frontLoader: "top",
    topLoader: "top",
    bring: "weight bolts, thread lock, torque wrench",
    ...trade,
  },
  {
    component: "unbalanced-load",
    frontLoader: "outside",
    topLoader: "outside",
    bring: null,
    ...trade,
  },
  {
    component: "levelling",
    frontLoader: "outside",
    topLoader: "outside",
    bring: "spirit level, spanner for the lock nuts",
    ...trade,
  },
  {
    component: "shipping-bolts",
    frontLoader: "outside",
    topLoader: "outside",
    bring: "plugs for the bolt holes",
    ...trade,
  },
  {
    component: "foreign-object",
    frontLoader: "inside the drum",
    topLoader: "inside the drum",
    bring: "grabber, mirror, torch",
    ...trade,
  },
  {
    component: "loose-panel",
    frontLoader: "outside",
    topLoader: "outside",
    bring: "screws, foam tape",
    ...trade,
  },
  {
    component: "balance-ring",
    frontLoader: "top",
    topLoader: "inside the drum",
    bring: null,
    ...trade,
  },
  {
    component: "rotor-stator",
    frontLoader: "rear",
    topLoader: "underneath",
    bring: "rotor puller, torque wrench",
    ...trade,
  },
  {
    component: "door-boot",
    frontLoader: "inside the drum",
    topLoader: "inside the drum",
    bring: "band tool",
    ...trade,
  },
  {
    component: "inlet-valve",
    frontLoader: "top",
    topLoader: "top",
    bring: "inlet valve",
    ...trade,
  },
  { component: "controls", frontLoader: "top", topLoader: "top", bring: "meter", ...trade },
  {
    component: "drum-lifter",
    frontLoader: "inside the drum",
    topLoader: "inside the drum",
    bring: "paddle clip or screw",
    ...trade,
  },
  { component: "spin-brake", frontLoader: "rear", topLoader: "underneath", bring: null, ...trade },
  {
    component: "recirculation-pump",
    frontLoader: "front, low",
    topLoader: "underneath",
    bring: "pump with hose clamp, tray, towels",
    ...trade,
  },
];
