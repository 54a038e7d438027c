import type { Dice } from "./dice.js";
import { KNOT_HZ, type Knots, type Stroke } from "./knots.js";
import type { Machine } from "./machine.js";

/** Front loader: spells of turning at 40-55 rpm, each the other way round. */
export function tumbling(machine: Machine, count: number, dice: Dice): Knots {
  const rpm = new Float64Array(count);
  const fed = new Float64Array(count);
  const pull = new Float64Array(count);
  const strokes: Stroke[] = [];
  const speed = dice.between(40, 55);
  const brisk = dice.chance(0.4);
  const total = count / KNOT_HZ;
  let at = dice.chance(0.5) ? -dice.between(0, 3) : dice.between(0.2, 2);
  let forward = dice.chance(0.5);
  while (at < total) {
    const on = brisk ? dice.between(3.5, 8) : dice.between(8, 20);
    const [rise, fall] = [dice.between(0.5, 2), dice.between(0.4, 1.5)];
    for (let k = Math.max(0, Math.floor(at * KNOT_HZ)); k < count; k++) {
      const t = k / KNOT_HZ - at;
      if (t > on + fall) break;
      rpm[k] = speed * (t < rise ? t / rise : t > on ? 1 - (t - on) / fall : 1);
      if (t <= on) fed[k] = 1;
      pull[k] = t < rise ? 1 : t > on ? 0 : 0.45;
    }
    strokes.push({ from: Math.max(0, at), to: Math.min(total, at + on + fall), forward });
    at += on + fall + (brisk ? dice.between(0.8, 3) : dice.between(2, 6));
    forward = !forward;
  }
  // Laundry lifts and drops: the speed ripples at each turn by some percent.
  const ripple = dice.between(0, 0.04);
  let turns = dice.next();
  const drumHz = rpm.map((n) => {
    turns += n / 60 / KNOT_HZ;
    return (n / 60) * (1 + ripple * Math.sin(2 * Math.PI * turns));
  });
  const motorHz = drumHz.map((hz) => hz * machine.motorToDrum);
  return { kind: "tumble", drumHz, motorHz, inputHz: drumHz, pull, fed, strokes };
}

/** Speed over one stroke, of its part 0..1: four shapes that drives give. */
function strokeShape(dice: Dice): (x: number) => number {
  const [rise, fall] = [dice.between(0.1, 0.35), dice.between(0.1, 0.4)];
  const power = dice.between(0.5, 1);
  const drag = dice.between(2, 5);
  return dice.pick([
    (x: number) => Math.max(0, Math.min(1, x / rise, (1 - x) / fall)),
    (x: number) => Math.sin(Math.PI * x) ** power,
    (x: number) => (x < 0.55 ? 1 - Math.exp((-x * drag) / rise / 3) : Math.exp(-(x - 0.55) * drag)),
    (x: number) => Math.min(1, x / rise) * (1 - 0.5 * x),
  ]);
}

/** Top loader: the basket stands, the agitator goes to and fro. */
export function agitation(machine: Machine, count: number, dice: Dice): Knots {
  const perMinute = machine.profile.strokesPerMinute!;
  const period = 60 / dice.between(perMinute.low, perMinute.high);
  const geared = machine.profile.pumpDrivenBy === "wash-motor";
  const share = geared ? 1 : dice.between(0.5, 0.92);
  const shape = geared ? (x: number) => Math.sin(Math.PI * x) : strokeShape(dice);
  const top = inputSpeed(machine, dice);
  const inputHz = new Float64Array(count);
  const fed = new Float64Array(count);
  const strokes: Stroke[] = [];
  const lull = dice.chance(0.3) ? dice.between(3, 9) : 0;
  let at = dice.between(0, lull / 2 + 0.3);
  for (let index = 0; at < count / KNOT_HZ; index++) {
    const lasts = period * share * dice.between(0.95, 1.05);
    strokes.push({ from: at, to: Math.min(count / KNOT_HZ, at + lasts), forward: index % 2 === 0 });
    const level = dice.between(0.93, 1.03);
    for (let k = Math.ceil(at * KNOT_HZ); k < Math.min(count, (at + lasts) * KNOT_HZ); k++) {
      const x = (k / KNOT_HZ - at) / lasts;
      inputHz[k] = top * level * shape(x);
      fed[k] = x < 0.85 ? 1 : 0;
    }
    at += period;
  }
  const pull = inputHz.map((hz, k) => fed[k]! * (1 - (0.5 * hz) / top));
  if (!geared) {
    const motorHz = inputHz.map((hz) => hz * machine.motorToInput);
    return {
      kind: "agitate",
      drumHz: new Float64Array(count),
      motorHz,
      inputHz,
      pull,
      fed,
      strokes,
    };
  }
  // The old gear case makes the to and fro itself: motor and input turn on at one speed.
  const motor = (machine.lineHz / 2) * (1 - machine.motorSlip);
  const motorHz = inputHz.map((hz) => motor * (1 - (0.02 * hz) / top));
  return {
    kind: "agitate",
    drumHz: new Float64Array(count),
    motorHz,
    inputHz: motorHz.map((hz) => hz / machine.motorToInput),
    pull: inputHz.map((hz) => 0.3 + (0.6 * hz) / top),
    fed: new Float64Array(count).fill(1),
    strokes,
  };
}

function inputSpeed(machine: Machine, dice: Dice): number {
  if (machine.profile.motor.kind === "induction-mains") {
    return ((machine.lineHz / 2) * (1 - machine.motorSlip)) / machine.motorToInput;
  }
  return (dice.between(50, 130) / 60) * machine.reduction;
}
