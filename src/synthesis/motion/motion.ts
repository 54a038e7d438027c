import { controlCount } from "../sound/rate.js";
import { integrateSpeed } from "../sound/turns.js";
import type { DrawnWasher } from "../washer/drawn-washer.js";
import type { ProgrammeWish } from "./programme-wish.js";

/** How the drive moves over a clip. Curves hold one value per control step, shape [controlCount]. */
export interface Programme {
  /** Drum turns per second, negative when it turns back; 0 while it stands. */
  readonly drumHz: Float64Array;
  /** Agitator turns per second of a top loader in the wash; 0 otherwise. */
  readonly agitatorHz: Float64Array;
  /** Motor speed where it is not tied to the drum or agitator; null where it is. */
  readonly motorHz: Float64Array | null;
  /** 1 while the motor is powered, else 0. */
  readonly powered: Float64Array;
  /** Torque demand, about -1 to 1. */
  readonly torque: Float64Array;
  /** 1 while the drain pump runs. */
  readonly pump: Float64Array;
  /** Moments (seconds) at which the drive starts, stops or turns back. */
  readonly jerks: readonly number[];
  /** Which way the programme went, for the note beside the clip. */
  readonly story: string;
}

/** A programme with every shaft's angle worked out. Turns have one value per audio sample. */
export interface Motion extends Programme {
  readonly sampleCount: number;
  readonly motorSpeedHz: Float64Array;
  /** The large pulley (belt) or the gear case's input. */
  readonly pulleyHz: Float64Array;
  readonly drumTurns: Float64Array;
  readonly motorTurns: Float64Array;
  readonly pulleyTurns: Float64Array;
  readonly agitatorTurns: Float64Array;
}

const isStill = (hz: Float64Array): boolean => hz.every((value) => value === 0);

/** The large pulley follows the drum in the spin and the agitator in the wash. */
function pulleySpeed(programme: Programme, washer: DrawnWasher): Float64Array {
  if (programme.motorHz) return programme.motorHz.map((hz) => hz / washer.motorToPulley);
  if (isStill(programme.agitatorHz)) return programme.drumHz.map((hz) => hz / washer.drumToPulley);
  return programme.agitatorHz.map((hz) => hz * washer.pulleyToAgitator);
}

/** Ties motor, pulley, drum and agitator together and integrates their speeds to angles. */
export function moveWasher(programme: Programme, washer: DrawnWasher, sampleCount: number): Motion {
  const pulleyHz = pulleySpeed(programme, washer);
  // A belt creeps: the motor turns a little faster than the pulleys say, more so under torque.
  const creep = washer.build.belt ? washer.creep : 0;
  const motorSpeedHz =
    programme.motorHz ??
    pulleyHz.map((hz, k) => hz * washer.motorToPulley * (1 + creep * (0.5 + programme.torque[k]!)));
  const still = new Float64Array(sampleCount);
  const turnsOf = (hz: Float64Array) => (isStill(hz) ? still : integrateSpeed(hz, sampleCount));
  const drumTurns = turnsOf(programme.drumHz);
  const pulleyTurns = turnsOf(pulleyHz);
  return {
    ...programme,
    sampleCount,
    motorSpeedHz,
    pulleyHz,
    drumTurns,
    pulleyTurns,
    motorTurns: washer.build.belt || programme.motorHz ? turnsOf(motorSpeedHz) : pulleyTurns,
    agitatorTurns: turnsOf(programme.agitatorHz),
  };
}

/** A programme in which nothing turns, to build others from. */
export function stillProgramme(sampleCount: number): Programme {
  const none = () => new Float64Array(controlCount(sampleCount));
  return {
    drumHz: none(),
    agitatorHz: none(),
    motorHz: null,
    powered: none(),
    torque: none(),
    pump: none(),
    jerks: [],
    story: "still",
  };
}

/** A gear case with a clutch lets the drum run on alone: the motor then stands. Else null (tied). */
export const motorLeftBehind = ({ washer, sampleCount }: ProgrammeWish): Float64Array | null =>
  washer.build.gears === "fixed" && !washer.build.belt
    ? new Float64Array(controlCount(sampleCount))
    : null;
