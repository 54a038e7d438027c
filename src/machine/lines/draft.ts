import type { Clock, ExpectedLine } from "../expected-line.js";
import type { MachineProfile, RunningState } from "../profile.js";
import type { ClockRates } from "../clock-rates.js";
import type { Running } from "../what-runs.js";

/** An expected line before it is placed at a speed. */
export type LineDraft = Omit<ExpectedLine, "hz" | "drumOrder">;

/** What the line makers work from. */
export interface LineInputs {
  readonly profile: MachineProfile;
  readonly state: RunningState;
  readonly running: Running;
  readonly clocks: ClockRates;
  /** The machine's kind is not known: name only the commonest variants, to keep the list short. */
  readonly pooled: boolean;
}

/** The motor as the makers of its lines see it. */
export interface MotorView extends LineInputs {
  /** The drum's clock when the rotor sits on the drum shaft, else the motor's own. */
  readonly clock: Clock;
  /** Where a multiple of the motor's rate would commonly fall. */
  readonly seenIn: (multiple: number) => "envelope" | "spectrum";
  /** As many of the variants, commonest first, as are to be named. */
  readonly some: <T>(variants: readonly T[]) => readonly T[];
}

/** Variants of a part named when kinds are pooled. */
export const POOLED_VARIANTS = 2;

/** Below this a phone passes little; a line there shows only as modulation of higher bands. */
const AUDIBLE_FROM_HZ = 150;

/** Whether a line near `hz` is looked for as a tone or as a modulation. */
export const seenInAt = (hz: number): "envelope" | "spectrum" =>
  hz >= AUDIBLE_FROM_HZ ? "spectrum" : "envelope";

/** Rounds to 4 digits after the point, for ids made from multiples. */
export const asId = (value: number): string => String(Math.round(value * 1e4) / 1e4);
