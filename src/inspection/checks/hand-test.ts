import type { MotorKind } from "../../machine/profile.js";
import type { Component, Sourced } from "../../machine/words.js";

/** Who may do a test: anybody, a repair technician, or a person licensed for work on open live machines. */
export const AUDIENCES = ["customer", "technician", "licensed"] as const;
export type Audience = (typeof AUDIENCES)[number];

/** Ends of the machine at which it is opened. */
export type MachineEnd = "front" | "rear" | "top" | "underneath";

/** States of taking apart that several tests share. */
export type AccessId =
  | "moved-out"
  | "tipped"
  | "drive-side"
  | "belt-off"
  | "rotor-off"
  | "pump-side"
  | "top-off"
  | "suspension-side";

/** How one kind of machine is brought into a state. */
export interface AccessRow extends Sourced {
  readonly access: AccessId;
  readonly axis: "horizontal" | "vertical";
  readonly end: MachineEnd;
  /** What is taken off, as a technician says it. */
  readonly words: string;
  /** Minutes for this step alone; closing takes as long. */
  readonly minutes: number;
  readonly needs: readonly AccessId[];
  readonly tools: readonly string[];
  readonly cautions: readonly TestCautionId[];
}

export type TestCautionId =
  | "unplug"
  | "edges"
  | "water"
  | "tipping"
  | "pinch"
  | "heavy"
  | "springs"
  | "charged"
  | "magnets"
  | "running"
  | "live";

/** One way a test can turn out. */
export interface Outcome extends Sourced {
  /** The word for `--found CHECK=OUTCOME`. */
  readonly outcome: string;
  /** Other words that mean the same. */
  readonly also?: readonly string[];
  /** What is seen, heard or felt. */
  readonly reads: string;
  /** The same, where limits hang on how the drum lies and the machine's kind is known. */
  readonly readsOn?: Readonly<Partial<Record<AccessRow["axis"], string>>>;
  /** Parts that this outcome points at. */
  readonly points: readonly Component[];
  /**
   * Chance of the outcome when a part is at fault; `otherwise` for every part not named. The first
   * outcome of a test has neither: it takes what the others leave.
   */
  readonly chance?: Readonly<Partial<Record<Component, number>>>;
  readonly otherwise?: number;
}

/** A test by hand, ear, eye, programme or meter. */
export interface HandTest extends Sourced {
  /** The word for `--found CHECK=OUTCOME`. */
  readonly check: string;
  readonly also?: readonly string[];
  readonly how: string;
  /** What a customer is told instead, where the technician's way is not for them. */
  readonly customerHow?: string;
  /** Minutes of the test itself, with the machine opened as far as `access` says. */
  readonly minutes: number;
  readonly access: readonly AccessId[];
  /**
   * `unplugged`: plug pulled; `covers-on`: runs by programme with everything closed; `live`: open and
   * under power.
   */
  readonly power: "unplugged" | "covers-on" | "live";
  /** The drum turns at speed: not with a part that may come loose. */
  readonly spins?: true;
  readonly who: Audience;
  readonly tools: readonly string[];
  readonly cautions: readonly TestCautionId[];
  /** Only on machines with this part, with the drum known to lie so, or with one of these motors. */
  readonly needsPart?: Component;
  readonly axis?: "horizontal" | "vertical";
  readonly motors?: readonly MotorKind[];
  /** Tests that feel or hear the same thing, so that two of them are not two witnesses. */
  readonly group?: "turned-by-hand" | "play";
  /** Tests after which it can teach nothing more. */
  readonly notAfter?: readonly string[];
  /** At least two; the first takes the chance that the others leave. */
  readonly outcomes: readonly Outcome[];
}
