import type { Component, MachineProfileId, Phase, Sourced } from "../machine/words.js";

/** Where a faulty part can be heard. */
export interface Cell extends Sourced {
  readonly component: Component;
  readonly machines: readonly MachineProfileId[];
  readonly phases: readonly Phase[];
}

const topBelt = ["top-load-belt", "top-load-belt-reversing"] as const;
const topDirect = ["top-load-direct", "top-load-direct-geared"] as const;
const topLoad = [...topBelt, ...topDirect, "top-load-coupled"] as const;
const frontBelt = [
  "front-load-belt-universal",
  "front-load-belt-induction",
  "front-load-belt-bldc",
] as const;
const frontLoad = [...frontBelt, "front-load-direct"] as const;
const all = [...topLoad, ...frontLoad] as const;
const belts = [...topBelt, ...frontBelt] as const;
const note = { source: "common practice, no source", provenance: "common practice" } as const;

export const CELLS: readonly Cell[] = [
  {
    component: "drum-bearing",
    machines: frontLoad,
    phases: ["wash", "spin", "coast", "hand-spin"],
    ...note,
  },
  { component: "drum-bearing", machines: topLoad, phases: ["spin", "coast", "hand-spin"], ...note },
  {
    component: "drum-spider",
    machines: frontLoad,
    phases: ["wash", "spin", "coast", "hand-spin"],
    ...note,
  },
  {
    component: "hub-nut",
    machines: [...topLoad, "front-load-direct"],
    phases: ["wash", "spin", "coast", "hand-spin"],
    ...note,
  },
  {
    component: "drive-belt",
    machines: belts,
    phases: ["wash", "spin", "coast", "hand-spin"],
    ...note,
  },
  {
    component: "motor-pulley",
    machines: belts,
    phases: ["wash", "spin", "coast", "hand-spin"],
    ...note,
  },
  {
    component: "drum-pulley",
    machines: belts,
    phases: ["wash", "spin", "coast", "hand-spin"],
    ...note,
  },
  {
    component: "motor-bearing",
    machines: belts,
    phases: ["wash", "spin", "coast", "hand-spin"],
    ...note,
  },
  { component: "motor-bearing", machines: ["top-load-coupled"], phases: ["wash", "spin"], ...note },
  {
    component: "motor-brushes",
    machines: ["front-load-belt-universal"],
    phases: ["wash", "spin"],
    ...note,
  },
  { component: "clutch-splines", machines: ["top-load-belt"], phases: ["wash", "spin"], ...note },
  {
    component: "shift-actuator",
    machines: ["top-load-belt", ...topDirect],
    phases: ["wash", "drain", "spin"],
    ...note,
  },
  {
    component: "gear-case",
    machines: [...topBelt, "top-load-direct-geared", "top-load-coupled"],
    phases: ["wash"],
    ...note,
  },
  { component: "agitator-dogs", machines: topLoad, phases: ["wash"], ...note },
  {
    component: "motor-coupling",
    machines: ["top-load-coupled"],
    phases: ["wash", "drain", "spin"],
    ...note,
  },
  { component: "drain-pump", machines: all, phases: ["drain", "spin"], ...note },
  { component: "suspension", machines: all, phases: ["spin", "coast"], ...note },
  { component: "counterweight", machines: frontLoad, phases: ["spin", "coast"], ...note },
  { component: "unbalanced-load", machines: all, phases: ["spin", "coast"], ...note },
  { component: "levelling", machines: all, phases: ["spin", "coast"], ...note },
  { component: "shipping-bolts", machines: frontLoad, phases: ["spin", "coast"], ...note },
  {
    component: "foreign-object",
    machines: frontLoad,
    phases: ["wash", "spin", "coast", "hand-spin"],
    ...note,
  },
  {
    component: "foreign-object",
    machines: topLoad,
    phases: ["spin", "coast", "hand-spin"],
    ...note,
  },
  { component: "loose-panel", machines: all, phases: ["drain", "spin", "coast"], ...note },
  { component: "balance-ring", machines: all, phases: ["spin", "coast"], ...note },
  {
    component: "rotor-stator",
    machines: [...topDirect, "front-load-direct"],
    phases: ["wash", "spin", "coast", "hand-spin"],
    ...note,
  },
  { component: "door-boot", machines: frontLoad, phases: ["wash", "coast", "hand-spin"], ...note },
  { component: "inlet-valve", machines: all, phases: ["fill"], ...note },
  { component: "controls", machines: all, phases: ["fill", "wash", "drain", "spin"], ...note },
  { component: "drum-lifter", machines: frontLoad, phases: ["wash", "hand-spin"], ...note },
  {
    component: "spin-brake",
    machines: ["top-load-coupled", "top-load-belt-reversing"],
    phases: ["spin", "coast"],
    ...note,
  },
  { component: "recirculation-pump", machines: all, phases: ["wash"], ...note },
];
