import type { Rpm } from "../foundation/units.js";
import type { BallSet } from "./bearings.data.js";
import type { Component, Sourced } from "./words.js";

/** A number that differs between makes: usual value and the range to search. */
export interface Span extends Sourced {
  readonly low: number;
  readonly typical: number;
  readonly high: number;
}

/** A set of whole numbers in use, most common first. */
export interface Choices extends Sourced {
  readonly values: readonly number[];
}

export type MotorKind =
  | "induction-mains"
  | "induction-inverter"
  | "universal"
  | "permanent-magnet-belt"
  | "permanent-magnet-direct";

export interface MotorProfile {
  readonly kind: MotorKind;
  /** Magnetic poles (2p). */
  readonly poles: Choices;
  /** Stator (or, in a universal motor, armature) slots. */
  readonly slots: Choices | null;
  /** Rotor bars or commutator bars. */
  readonly bars: Choices | null;
  /** Slot and pole pairs that belong together, for direct drives: [slots, poles]. */
  readonly slotPolePairs: readonly (readonly [slots: number, poles: number])[];
  /** Ball bearings by designation, such as "6202"; null when it runs in the drum's bearings. */
  readonly bearings: readonly string[] | null;
}

export interface BeltProfile {
  /** Belt turns per drum turn in the spin. */
  readonly beltToDrum: Span;
  readonly motorPulleyMm: Span;
  readonly drumPulleyMm: Span;
  readonly lengthMm: Span;
  readonly spanMm: Span;
  readonly tensionNewton: Span;
  readonly massKgPerM: Span;
  readonly healthySlip: Span;
}

export interface PlanetaryProfile {
  /** Sun, planet and ring tooth counts that are admissible, and number of planets. */
  readonly sets: readonly {
    readonly sun: number;
    readonly planet: number;
    readonly ring: number;
    readonly planets: number;
  }[];
  /** Sun turns per carrier turn. */
  readonly reduction: Span;
}

/** One kind of washer as data. */
export interface MachineProfile {
  /** A built-in profile's id, or the name in a user's machine file. */
  readonly id: string;
  readonly label: string;
  /** `vertical`: top loader; `horizontal`: front loader. */
  readonly axis: "vertical" | "horizontal";
  readonly drive: "belt" | "direct" | "coupling";
  readonly motor: MotorProfile;
  /** Motor turns per drum turn in the spin. */
  readonly motorToDrum: Span;
  /** Motor turns per turn of the drive pulley (agitator input) in the wash, when the drum is held. */
  readonly motorToAgitatorInput: Span | null;
  readonly spinRpm: Span;
  /** Drum speed in the wash for a front loader; null for a top loader. */
  readonly tumbleRpm: Span | null;
  /** Agitator strokes (one way) per minute for a top loader; null for a front loader. */
  readonly strokesPerMinute: Span | null;
  readonly belt: BeltProfile | null;
  readonly planetary: PlanetaryProfile | null;
  /** Teeth of the pinion that the motor turns in an older gear case; null when not known. */
  readonly pinionTeeth: Choices | null;
  /** Ball bearings that carry the drum, by designation. */
  readonly drumBearings: readonly string[];
  /** Geometry of bearings that the built-in table lacks; these win over the table. */
  readonly ownBearings?: readonly BallSet[];
  /** The bearings are those of this very machine, not a guess over its kind. */
  readonly drumBearingsKnown?: boolean;
  readonly motorBearingsKnown?: boolean;
  /** Mains frequency in the countries where it is common; null when both. */
  readonly usualLineHz: 50 | 60 | null;
  readonly pumpDrivenBy: "own-motor" | "wash-motor";
  /** Vanes of the drain pump's impeller. */
  readonly pumpVanes: Choices;
  /** Carrier of the motor's inverter in Hz; null without an inverter. */
  readonly carrierHz: Span | null;
  readonly suspensionRpm: Span;
  readonly lifters: number;
  /** Parts this kind of machine has and that can make a noise (always with `normal` and `other`). */
  readonly components: readonly Component[];
}

/** The washer under test: one profile, or a family of profiles when its kind is not known exactly. */
export interface Washer {
  readonly id: string;
  readonly label: string;
  /** At least one. */
  readonly profiles: readonly MachineProfile[];
}

/** What is known about the running state, for working out expected lines. */
export interface RunningState {
  readonly drumRpm: Rpm | null;
  readonly motorRpm: Rpm | null;
  readonly lineHz: 50 | 60 | null;
  readonly phase: import("./words.js").Phase;
}
