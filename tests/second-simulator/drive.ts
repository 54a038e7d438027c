import type { Phase } from "../../src/machine/words.js";
import type { Dice } from "./dice.js";
import type { Washer } from "./washer.js";

/** How a spin clip runs: `start` comes up from rest or tumbling through the suspension's own speed. */
export type SpinShape = "plateau" | "ramp" | "step" | "start";

/** Movement of the whole drive at the audio rate. Speeds are signed turns per second. */
export interface Drive {
  phase: Phase;
  sampleRateHz: number;
  length: number;
  drumHz: Float32Array;
  drumTurns: Float64Array;
  motorHz: Float32Array;
  motorTurns: Float64Array;
  /** Agitator or pulsator; as the drum in spin and in front loaders. */
  agitatorHz: Float32Array;
  agitatorTurns: Float64Array;
  /** Motor torque on the drum, about −1..1. */
  torque: Float32Array;
  /** 1 while the wash motor is powered. */
  power: Float32Array;
  pump: Float32Array;
  /** Share of air the pump draws, 0..1. */
  air: Float32Array;
  recirculation: Float32Array;
  valve: Float32Array;
}

const CONTROL_HZ = 1000;

interface Plan {
  n: number;
  drum: Float32Array;
  motor: Float32Array;
  agitator: Float32Array;
  power: Float32Array;
  pump: Float32Array;
  air: Float32Array;
  recirculation: Float32Array;
  valve: Float32Array;
}

function blankPlan(seconds: number): Plan {
  const n = Math.ceil(seconds * CONTROL_HZ) + 2;
  const row = () => new Float32Array(n);
  return {
    n,
    drum: row(),
    motor: row(),
    agitator: row(),
    power: row(),
    pump: row(),
    air: row(),
    recirculation: row(),
    valve: row(),
  };
}

/** Follows a wanted speed with bounded acceleration, turns/s². */
function follow(
  wanted: (t: number) => number,
  n: number,
  start: number,
  up: number,
  down: number,
): Float32Array {
  const out = new Float32Array(n);
  let f = start;
  for (let i = 0; i < n; i++) {
    const gap = wanted(i / CONTROL_HZ) - f;
    const faster = Math.abs(f + gap) > Math.abs(f);
    const limit = (faster ? up : down) / CONTROL_HZ;
    f += Math.max(-limit, Math.min(limit, gap * 0.02));
    out[i] = f;
  }
  return out;
}

/** Motor and agitator follow the drum on everything that couples them rigidly. */
function coupleToDrum(w: Washer, p: Plan, dice: Dice): void {
  const slip = w.belt ? dice.range(0, 0.004) : 0;
  for (let i = 0; i < p.n; i++) {
    p.motor[i] = p.drum[i]! * w.motorToDrum * (1 + slip * Math.sin(i / 900));
    p.agitator[i] = p.drum[i]!;
  }
}

function planFill(
  w: Washer,
  p: Plan,
  dice: Dice,
  o: { seconds: number; valvePulses: boolean },
): void {
  const { seconds } = o;
  const pulse = dice.range(3, 6);
  const off = dice.chance(0.5) ? dice.range(0.55, 0.9) * seconds : seconds + 1;
  for (let i = 0; i < p.n; i++) {
    const t = i / CONTROL_HZ;
    p.valve[i] = o.valvePulses ? (t % pulse < 0.6 * pulse ? 1 : 0) : t > 0.3 && t < off ? 1 : 0;
  }
  if (!w.topLoad && dice.chance(0.3)) {
    p.drum = follow((t) => (t > seconds * 0.6 ? w.washRpm / 60 : 0), p.n, 0, 0.8, 1.2);
    for (let i = 0; i < p.n; i++) p.power[i] = p.drum[i]! > 0.01 ? 1 : 0;
    coupleToDrum(w, p, dice);
  }
}

function planTumble(w: Washer, p: Plan, dice: Dice): void {
  const on = dice.range(7, 16);
  const off = dice.range(1.5, 5);
  const start = dice.chance(0.5)
    ? -dice.range(0, on * 0.6)
    : on > 9
      ? -dice.range(on - 4, on - 1)
      : 0;
  const rate = dice.range(0.5, 1.4);
  const speed = w.washRpm / 60;
  const wanted = (t: number) => {
    const k = Math.floor((t - start) / (on + off));
    return t - start - k * (on + off) < on ? (k % 2 === 0 ? speed : -speed) : 0;
  };
  p.drum = follow(wanted, p.n, start < 0 ? speed : 0, rate, rate * 1.6);
  for (let i = 0; i < p.n; i++) {
    p.power[i] = wanted(i / CONTROL_HZ) !== 0 ? 1 : 0;
    p.recirculation[i] = w.recirculation && i > 1200 ? 1 : 0;
  }
  // The load falls about in the drum and pulls at it once per turn.
  const heavy = dice.range(0.005, 0.05);
  let turns = 0;
  for (let i = 0; i < p.n; i++) {
    turns += p.drum[i]! / CONTROL_HZ;
    p.drum[i]! *= 1 + heavy * Math.sin(2 * Math.PI * turns);
  }
  coupleToDrum(w, p, dice);
}

function planStrokes(w: Washer, p: Plan, dice: Dice): void {
  const gear = w.gear;
  const reduction =
    (gear?.kind === "planetary" ? gear.reduction : 1) * (w.belt ? w.motorToDrum : 1);
  const lineMotor = w.motor.kind === "single-phase";
  const top = lineMotor ? w.motor.lineSpeedHz / reduction : w.washRpm / 60;
  const on = dice.range(0.35, 1);
  const off = dice.range(0.12, 0.45);
  const rate = top / dice.range(0.08, 0.22);
  const wanted = (t: number) => {
    const k = Math.floor(t / (on + off));
    return t - k * (on + off) < on ? (k % 2 === 0 ? top : -top) : 0;
  };
  p.agitator = follow(wanted, p.n, 0, rate, rate * 1.5);
  for (let i = 0; i < p.n; i++) {
    p.motor[i] = p.agitator[i]! * reduction;
    p.power[i] = wanted(i / CONTROL_HZ) !== 0 ? 1 : 0;
    p.recirculation[i] = w.recirculation && i > 1200 ? 1 : 0;
  }
}

/** Older gear cases: the motor runs on, a crank or sector swings the agitator. */
function planCrank(w: Washer, p: Plan, dice: Dice): void {
  const cycleHz = dice.range(60, 90) / 60;
  const arcTurns = dice.range(180, 220) / 360;
  const speed = w.motor.lineSpeedHz;
  let phase = dice.unit();
  for (let i = 0; i < p.n; i++) {
    const swing = Math.sin(2 * Math.PI * phase);
    // Load of the stroke brakes the motor twice per cycle.
    p.motor[i] = speed * (1 - 0.012 * Math.abs(swing));
    phase += (cycleHz * p.motor[i]!) / speed / CONTROL_HZ;
    p.agitator[i] = Math.PI * arcTurns * cycleHz * swing;
    p.power[i] = 1;
    p.recirculation[i] = w.recirculation ? 1 : 0;
  }
}

function planDrain(w: Washer, p: Plan, dice: Dice, seconds: number): void {
  const begin = dice.chance(0.4) ? dice.range(0.3, 1.5) : 0;
  const empty = dice.chance(0.5) ? dice.range(0.5, 0.95) * seconds : seconds * 2;
  for (let i = 0; i < p.n; i++) {
    const t = i / CONTROL_HZ;
    p.pump[i] = t >= begin ? 1 : 0;
    p.air[i] = t > empty ? Math.min(1, (t - empty) / 1.5) * 0.8 : 0;
    if (w.pumpOnMotor) {
      p.motor[i] =
        w.motor.lineSpeedHz * Math.min(1, Math.max(0, (t - begin) / 0.5 + (begin === 0 ? 1 : 0)));
      p.power[i] = t >= begin ? 1 : 0;
    }
  }
  if (!w.topLoad && dice.chance(0.35)) {
    p.drum = follow((t) => (t % 9 < 6 ? w.washRpm / 60 : 0), p.n, 0, 0.8, 1.2);
    for (let i = 0; i < p.n; i++) p.power[i] = p.drum[i]! > 0.02 ? 1 : 0;
    coupleToDrum(w, p, dice);
  }
}

function spinTarget(
  w: Washer,
  shape: SpinShape,
  dice: Dice,
  seconds: number,
): { start: number; rate: number; wanted: (t: number) => number } {
  const top = w.spinRpm / 60;
  if (shape === "plateau") {
    const wow = dice.range(0, 0.004);
    return { start: top, rate: 3, wanted: (t) => top * (1 + wow * Math.sin(1.1 * t)) };
  }
  if (shape === "ramp") {
    const start = dice.range(0.35, 0.6) * top;
    const rate = (dice.range(0.6, 1.1) * (top - start)) / seconds;
    return { start, rate, wanted: () => top };
  }
  if (shape === "step") {
    const low = dice.range(0.45, 0.7) * top;
    const at = dice.range(0.3, 0.5) * seconds;
    return { start: low, rate: dice.range(1, 2.5), wanted: (t) => (t < at ? low : top) };
  }
  const start = w.topLoad ? 0 : dice.pick([0, w.washRpm / 60]);
  const reach = Math.min(top, dice.range(6, 11));
  const rate = (reach - start) / (dice.range(0.5, 0.85) * seconds);
  const wait = dice.range(0.4, 1.5);
  return { start, rate, wanted: (t) => (t < wait ? start : reach) };
}

function planSpin(
  w: Washer,
  p: Plan,
  dice: Dice,
  o: { seconds: number; shape: SpinShape; waitSeconds: number },
): void {
  const { start, rate, wanted: later } = spinTarget(w, o.shape, dice, o.seconds - o.waitSeconds);
  const wanted = (t: number) => (t < o.waitSeconds ? start : later(t - o.waitSeconds));
  const line = w.motor.kind === "single-phase";
  const pulsed = line && !w.pumpOnMotor && o.shape !== "plateau" && dice.chance(0.6);
  const period = dice.range(2.5, 7);
  const powered = (t: number) => (pulsed ? (t % period < 0.65 * period ? 1 : 0) : 1);
  p.drum = follow(
    (t) => (powered(t) ? wanted(t) : 0),
    p.n,
    start,
    pulsed ? rate / 0.6 : rate,
    0.08,
  );
  coupleToDrum(w, p, dice);
  powerSpin(w, p, dice, (t) => {
    const waiting = o.shape === "start" && start === 0 && wanted(t) === 0;
    return waiting ? 0 : powered(t);
  });
}

/** Pump, and the motor where a slipping clutch lets it run ahead of the basket. */
function powerSpin(w: Washer, p: Plan, dice: Dice, powered: (t: number) => number): void {
  const pumpOn = dice.chance(0.7);
  const pulse = dice.chance(0.4) ? dice.range(4, 12) : 1e9;
  for (let i = 0; i < p.n; i++) {
    const t = i / CONTROL_HZ;
    const on = powered(t);
    p.power[i] = on;
    p.air[i] = 0.35;
    p.pump[i] = pumpOn && t % pulse < 0.6 * pulse ? 1 : 0;
    if (!w.pumpOnMotor) continue;
    p.pump[i] = on;
    if (on > 0) p.motor[i] = w.motor.lineSpeedHz * (1 - 0.03 * (1 - p.drum[i]! / (w.spinRpm / 60)));
  }
}

function planCoast(
  w: Washer,
  p: Plan,
  dice: Dice,
  o: { seconds: number; toRest: boolean; braked: boolean },
): void {
  const start = o.toRest ? dice.range(5, 9) : Math.min(w.spinRpm, dice.range(380, 1250)) / 60;
  const dry = o.braked
    ? start / dice.range(4, 8)
    : o.toRest
      ? start / (dice.range(0.7, 0.95) * o.seconds)
      : dice.range(0.06, 0.2);
  const viscous = o.braked ? 0.02 : dice.range(0.01, 0.05);
  const power = dice.chance(0.4) ? dice.range(0.5, 2) : 0;
  let f = start;
  for (let i = 0; i < p.n; i++) {
    const on = i / CONTROL_HZ < power;
    if (!on) f = Math.max(0, f - (o.toRest ? dry : dry + viscous * f) / CONTROL_HZ);
    p.drum[i] = f;
    p.power[i] = on ? 1 : 0;
  }
  coupleToDrum(w, p, dice);
}

function planHand(w: Washer, p: Plan, dice: Dice): void {
  let next = dice.range(0.2, 1);
  let f = 0;
  let push = 0;
  let until = 0;
  const drag = dice.range(0.12, 0.45);
  for (let i = 0; i < p.n; i++) {
    const t = i / CONTROL_HZ;
    if (t >= next) {
      push = dice.range(1, 3.2) * (f > 0.1 || dice.chance(0.7) ? 1 : -1);
      until = t + dice.range(0.3, 0.6);
      next = until + dice.range(2, 4.5);
    }
    if (t < until) f += push / CONTROL_HZ;
    else f = Math.sign(f) * Math.max(0, Math.abs(f) - drag / CONTROL_HZ);
    p.drum[i] = f;
  }
  coupleToDrum(w, p, dice);
}

function fine(row: Float32Array, length: number, sampleRateHz: number): Float32Array {
  const out = new Float32Array(length);
  const step = CONTROL_HZ / sampleRateHz;
  for (let i = 0; i < length; i++) {
    const p = i * step;
    const j = p | 0;
    out[i] = row[j]! + (row[j + 1]! - row[j]!) * (p - j);
  }
  return out;
}

function turnsOf(hz: Float32Array, sampleRateHz: number): Float64Array {
  const out = new Float64Array(hz.length);
  let turns = 0.137;
  for (let i = 0; i < hz.length; i++) {
    turns += hz[i]! / sampleRateHz;
    out[i] = turns;
  }
  return out;
}

function torqueOf(p: Plan): Float32Array {
  const out = new Float32Array(p.n);
  const speed = p.agitator;
  let top = 0.5;
  for (let i = 0; i < p.n; i++) top = Math.max(top, Math.abs(speed[i]!));
  let smooth = 0;
  for (let i = 0; i < p.n; i++) {
    const a = (speed[Math.min(p.n - 1, i + 1)]! - speed[Math.max(0, i - 1)]!) * (CONTROL_HZ / 2);
    const drag = (0.35 * speed[i]!) / top;
    const wanted =
      p.power[i]! > 0
        ? Math.tanh(a / (2.5 * top)) + drag
        : -0.2 * Math.sign(speed[i]!) * (Math.abs(speed[i]!) > 0.01 ? 1 : 0);
    smooth += 0.05 * (wanted - smooth);
    out[i] = smooth;
  }
  return out;
}

export interface DriveWish {
  shape: SpinShape;
  toRest: boolean;
  braked: boolean;
  /** Standing time before a spin starts, s. */
  waitSeconds: number;
  /** The inlet valve opens and closes several times. */
  valvePulses: boolean;
}

/** Runs the machine through a clip of one phase. */
export function runDrive(
  w: Washer,
  phase: Phase,
  dice: Dice,
  o: { seconds: number; sampleRateHz: number } & DriveWish,
): Drive {
  const p = blankPlan(o.seconds);
  if (phase === "fill") planFill(w, p, dice, o);
  else if (phase === "wash" && !w.topLoad) planTumble(w, p, dice);
  else if (phase === "wash" && w.gear?.kind === "pinion") planCrank(w, p, dice);
  else if (phase === "wash") planStrokes(w, p, dice);
  else if (phase === "drain") planDrain(w, p, dice, o.seconds);
  else if (phase === "spin") planSpin(w, p, dice, o);
  else if (phase === "coast") planCoast(w, p, dice, o);
  else planHand(w, p, dice);
  const length = Math.round(o.seconds * o.sampleRateHz);
  const rate = o.sampleRateHz;
  const drumHz = fine(p.drum, length, rate);
  const motorHz = fine(p.motor, length, rate);
  const agitatorHz = fine(p.agitator, length, rate);
  return {
    phase,
    sampleRateHz: rate,
    length,
    drumHz,
    drumTurns: turnsOf(drumHz, rate),
    motorHz,
    motorTurns: turnsOf(motorHz, rate),
    agitatorHz,
    agitatorTurns: turnsOf(agitatorHz, rate),
    torque: fine(torqueOf(p), length, rate),
    power: fine(p.power, length, rate),
    pump: fine(p.pump, length, rate),
    air: fine(p.air, length, rate),
    recirculation: fine(p.recirculation, length, rate),
    valve: fine(p.valve, length, rate),
  };
}
