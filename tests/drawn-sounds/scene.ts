import type { Phase } from "../../src/machine/words.js";
import type { Canvas } from "./canvas.js";
import { curve, turnsOf, type Curve } from "./curve.js";
import type { Machine } from "./machine.js";
import { drawCoast, drawHandSpin, drawSpin, type SpinPart } from "./spin-course.js";
import { drawWash, type Stroke } from "./wash-course.js";

/** The machine at work over the clip: what turns how fast, and what is switched on. */
export interface Scene {
  readonly canvas: Canvas;
  readonly machine: Machine;
  readonly phase: Phase;
  readonly drumRpm: Curve;
  readonly drumTurns: Curve;
  readonly motorHz: Curve;
  readonly motorTurns: Curve;
  /** The gear case's input in the wash of a top loader. */
  readonly inputHz: Curve;
  readonly inputTurns: Curve;
  /** Current in the motor, 0 to 1. */
  readonly torque: Curve;
  readonly strokes: readonly Stroke[];
  /** When a hand pushes the drum. */
  readonly pushes: readonly number[];
  readonly pumpRuns: boolean;
}

/** What a fault needs of the course to be heard. */
export type Need = "any" | "critical" | "start" | "run-down" | "fast";

function spinPart(need: Need, canvas: Canvas): SpinPart {
  const { dice } = canvas;
  if (need === "critical") {
    return dice.weighted<SpinPart>([
      ["through-critical", 6],
      ["restarts", 2],
      ["start", 2],
    ]);
  }
  if (need === "start") return dice.chance(0.8) ? "start" : "through-critical";
  if (need === "run-down") return dice.chance(0.6) ? "braked" : "start";
  if (need === "fast") return dice.chance(0.6) ? "plateau" : "run-up";
  return dice.weighted<SpinPart>([
    ["plateau", 5],
    ["run-up", 3],
    ["through-critical", 1.2],
    ["start", 1],
    ["braked", 0.7],
    ["restarts", 0.5],
  ]);
}

/** Current: high while the speed climbs, some to keep it up, none while it runs out. */
function torqueOf(rpm: Curve): Curve {
  const reach = 40;
  return rpm.map((value, k) => {
    const before = rpm[Math.max(0, k - reach)]!;
    const rise = value - before;
    return value < 1 || rise < -2 ? 0 : Math.min(1, 0.35 + rise / 12);
  });
}

function moving(canvas: Canvas, machine: Machine, phase: Phase, need: Need) {
  const { seconds, dice } = canvas;
  const still = curve(seconds, () => 0);
  const none = { strokes: [] as Stroke[], pushes: [] as number[], torque: still, inputHz: still };
  if (phase === "wash") {
    const wash = drawWash(seconds, machine, dice);
    const most = wash.motorHz.reduce((top, hz) => Math.max(top, hz), 1);
    return { ...wash, pushes: [], torque: wash.motorHz.map((hz) => hz / most) };
  }
  if (phase === "spin") {
    const drumRpm = drawSpin(seconds, spinPart(need, canvas), machine, dice);
    const torque = torqueOf(drumRpm);
    return { ...none, drumRpm, torque, motorHz: drumRpm.map((v) => (v / 60) * machine.ratio) };
  }
  if (phase === "coast" || phase === "hand-spin") {
    const toTheEnd = need === "critical" || need === "run-down" || dice.chance(0.35);
    const hand = phase === "hand-spin" ? drawHandSpin(seconds, machine, dice) : null;
    const drumRpm = hand?.rpm ?? drawCoast(seconds, machine, toTheEnd, dice);
    const motorHz = drumRpm.map((v) => (v / 60) * machine.ratio);
    return { ...none, drumRpm, motorHz, pushes: hand?.pushes ?? [] };
  }
  return { ...none, ...standing(canvas, machine, phase) };
}

/** The drum stands; an older machine's motor turns all the same while it pumps. */
function standing(canvas: Canvas, machine: Machine, phase: Phase) {
  const pumping = phase === "drain" && machine.pumpOnMotor;
  const turningHz = machine.lineHz / 2 / 1.042;
  return {
    drumRpm: curve(canvas.seconds, () => 0),
    motorHz: curve(canvas.seconds, () => (pumping ? turningHz : 0)),
    torque: curve(canvas.seconds, () => (pumping ? 0.5 : 0)),
  };
}

export function drawScene(canvas: Canvas, machine: Machine, phase: Phase, need: Need): Scene {
  const course = moving(canvas, machine, phase, need);
  return {
    canvas,
    machine,
    phase,
    ...course,
    drumTurns: turnsOf(course.drumRpm.map((rpm) => rpm / 60)),
    motorTurns: turnsOf(course.motorHz),
    inputTurns: turnsOf(course.inputHz),
    pumpRuns: phase === "drain" || (phase === "spin" && canvas.dice.chance(0.5)),
  };
}
