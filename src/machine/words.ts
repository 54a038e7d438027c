/** What the machine is doing. `coast`: turning with the motor unpowered. */
export const PHASES = ["fill", "wash", "drain", "spin", "coast", "hand-spin", "unknown"] as const;
export type Phase = (typeof PHASES)[number];

/** What the noise sounds like. */
export const CHARACTERS = [
  "grinding",
  "whirring",
  "thumping",
  "squealing",
  "rattling",
  "humming",
  "none",
] as const;
export type Character = (typeof CHARACTERS)[number];

/** Built-in washers, then the families that pool their members. */
export const MACHINE_PROFILES = [
  "top-load-belt",
  "top-load-direct",
  "top-load-direct-geared",
  "top-load-coupled",
  "top-load-belt-reversing",
  "front-load-belt-universal",
  "front-load-belt-induction",
  "front-load-belt-bldc",
  "front-load-direct",
] as const;
export const MACHINE_FAMILIES = ["top-load", "front-load", "unknown"] as const;
export const MACHINE_IDS = [...MACHINE_PROFILES, ...MACHINE_FAMILIES] as const;
export type MachineProfileId = (typeof MACHINE_PROFILES)[number];
export type MachineId = (typeof MACHINE_IDS)[number];

/** Everything that can be named as the source of a noise. */
export const COMPONENTS = [
  "drum-bearing",
  "drum-spider",
  "hub-nut",
  "drive-belt",
  "motor-pulley",
  "drum-pulley",
  "motor-bearing",
  "motor-brushes",
  "clutch-splines",
  "shift-actuator",
  "gear-case",
  "agitator-dogs",
  "motor-coupling",
  "drain-pump",
  "suspension",
  "counterweight",
  "unbalanced-load",
  "levelling",
  "shipping-bolts",
  "foreign-object",
  "loose-panel",
  "balance-ring",
  "rotor-stator",
  "door-boot",
  "inlet-valve",
  "controls",
  "drum-lifter",
  "spin-brake",
  "recirculation-pump",
  "normal",
  "other",
] as const;
export type Component = (typeof COMPONENTS)[number];

/** What the answer amounts to. */
export const VERDICTS = [
  "likely",
  "shortlist",
  "normal-sound",
  "record-again",
  "not-a-washer",
] as const;
export type Verdict = (typeof VERDICTS)[number];

/** Whether an answer names a part, or parts, to look at. */
export const namesPart = (verdict: Verdict): boolean =>
  verdict === "likely" || verdict === "shortlist";

/** Where a number comes from; `told`: by the user, in a machine file. */
export type Provenance = "published" | "common practice" | "from memory" | "computed" | "told";

/** Every row of data carries these two. */
export interface Sourced {
  /** The publication, or what kind of knowledge it is. */
  readonly source: string;
  readonly provenance: Provenance;
}
