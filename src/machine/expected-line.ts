import type { Hertz } from "../foundation/units.js";
import type { Component, Sourced } from "./words.js";

/** What a line's frequency follows. */
export type Clock = "drum" | "motor" | "agitator" | "mains" | "fixed";

/** What physical event makes the line. */
export type LineKind =
  | "shaft"
  | "belt-pass"
  | "belt-span"
  | "pulley"
  | "bearing-outer"
  | "bearing-inner"
  | "bearing-ball"
  | "bearing-cage"
  | "gear-mesh"
  | "planet-pass"
  | "gear-fault"
  | "commutator"
  | "armature-slot"
  | "rotor-slot"
  | "pole-pass"
  | "cogging"
  | "torque-ripple"
  | "mains-hum"
  | "pump-rotation"
  | "pump-vane"
  | "lifter"
  | "pwm-carrier"
  | "suspension";

/** A frequency that a part of the machine would make, healthy or not. */
export interface ExpectedLine extends Sourced {
  /** Stable and unique within a machine, such as "drum-bearing/outer/9-ball". */
  readonly id: string;
  readonly part: Component;
  readonly kind: LineKind;
  readonly clock: Clock;
  /** Events per turn of the clock; for `mains` per mains period; for `fixed` the frequency in Hz. */
  readonly multiple: number;
  /** Half-width of the search window as a share of the frequency (slip, spread between makes). */
  readonly tolerance: number;
  /** Modulation of a higher band (`envelope`), or a tone that can be heard (`spectrum`). */
  readonly seenIn: "envelope" | "spectrum";
  /** A healthy machine makes this line too: its presence alone accuses nobody. */
  readonly healthy: boolean;
  /** Rate at which the line is modulated when its part is faulty, in turns of the clock, or null. */
  readonly sidebandMultiple: number | null;
  /** Frequency at the speed asked for; null when its clock stands or is not known. */
  readonly hz: Hertz | null;
  /** Order of the drum's rotation at the speed asked for; null as above or when not tied to it. */
  readonly drumOrder: number | null;
  /** Short name in the trade's words, such as "drum bearing, outer race, 9 balls". */
  readonly label: string;
  /** What it means when it is heard, in one sentence. */
  readonly meaning: string;
}
