import type { Phase } from "../../src/machine/words.js";
import type { Dice } from "./dice.js";
import { KNOT_HZ, type CourseWish, type Knots, type Stroke } from "./knots.js";
import type { Machine } from "./machine.js";
import { spinRpmKnots, coastRpmKnots, handRpmKnots } from "./spin-course.js";
import type { Signal } from "./sound.js";
import { agitation, tumbling } from "./wash-course.js";

/** How everything turns during a clip, sample by sample. */
export interface Course {
  kind: string;
  /** Speed of the plateau when the drum holds one. */
  plateauRpm: number | null;
  drumHz: Signal;
  motorHz: Signal;
  /** Drive pulley or gear-case input. */
  inputHz: Signal;
  drumTurns: Float64Array;
  motorTurns: Float64Array;
  inputTurns: Float64Array;
  /** Torque of the motor, 0..1. */
  pull: Signal;
  /** 1 while the motor is fed. */
  fed: Signal;
  /** Agitator strokes or spells of tumbling; one spell for a push by hand. */
  strokes: Stroke[];
}

function spread(knots: Float64Array, length: number, rate: number): Signal {
  const out = new Float32Array(length);
  for (let k = 0; k < length; k++) {
    const at = (k / rate) * KNOT_HZ;
    const left = Math.floor(at);
    out[k] = knots[left]! + (at - left) * (knots[left + 1]! - knots[left]!);
  }
  return out;
}

export function turnsOf(hz: Signal, rate: number, start = 0): Float64Array {
  const out = new Float64Array(hz.length);
  let turns = start;
  for (let k = 0; k < hz.length; k++) {
    turns += hz[k]! / rate;
    out[k] = turns;
  }
  return out;
}

/** Nothing turns, save the wash motor when it drives the drain pump. */
function standing(machine: Machine, phase: Phase, count: number): Knots {
  const still = new Float64Array(count);
  const busy = phase === "drain" && machine.profile.pumpDrivenBy === "wash-motor";
  const motorHz = new Float64Array(count).fill(
    busy ? (machine.lineHz / 2) * (1 - 0.6 * machine.motorSlip) : 0,
  );
  return {
    kind: "standing",
    drumHz: still,
    motorHz,
    inputHz: motorHz.map((hz) => hz / machine.motorToInput),
    pull: new Float64Array(count).fill(busy ? 0.5 : 0),
    fed: new Float64Array(count).fill(busy ? 1 : 0),
    strokes: [],
  };
}

function knotsOf(machine: Machine, wish: CourseWish, count: number, dice: Dice): Knots {
  switch (wish.phase) {
    case "wash":
      return machine.vertical ? agitation(machine, count, dice) : tumbling(machine, count, dice);
    case "spin":
      return spinRpmKnots(machine, count, wish, dice);
    case "coast":
      return coastRpmKnots(machine, count, wish.habitat ?? "any", dice);
    case "hand-spin":
      return handRpmKnots(machine, count, dice);
    default:
      return standing(machine, wish.phase, count);
  }
}

/** Draws how the machine turns in the wished phase. */
export function drawCourse(machine: Machine, wish: CourseWish, dice: Dice): Course {
  const length = Math.round(wish.seconds * wish.rate);
  const count = Math.ceil(wish.seconds * KNOT_HZ) + 3;
  const knots = knotsOf(machine, wish, count, dice);
  const [drumHz, motorHz, inputHz, pull, fed] = [
    knots.drumHz,
    knots.motorHz,
    knots.inputHz,
    knots.pull,
    knots.fed,
  ].map((row) => spread(row, length, wish.rate)) as [Signal, Signal, Signal, Signal, Signal];
  return {
    kind: knots.kind,
    plateauRpm: knots.plateauRpm ?? null,
    drumHz,
    motorHz,
    inputHz,
    drumTurns: turnsOf(drumHz, wish.rate, dice.next()),
    motorTurns: turnsOf(motorHz, wish.rate, dice.next()),
    inputTurns: turnsOf(inputHz, wish.rate, dice.next()),
    pull,
    fed,
    strokes: knots.strokes,
  };
}
