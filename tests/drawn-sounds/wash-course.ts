import { curve, type Curve } from "./curve.js";
import type { Dice } from "./dice.js";
import type { Machine } from "./machine.js";

/** One turn of the drum or one stroke of the agitator in one direction. */
export interface Stroke {
  readonly start: number;
  readonly end: number;
  readonly direction: 1 | -1;
}

/** How washing moves: the drum's speed (none in a top loader), the gear input's and the motor's. */
export interface WashCourse {
  readonly strokes: readonly Stroke[];
  readonly drumRpm: Curve;
  readonly inputHz: Curve;
  readonly motorHz: Curve;
}

const ramp = (share: number): number => Math.min(1, Math.max(0, share));

function drawTumble(seconds: number, machine: Machine, dice: Dice): WashCourse {
  const rpm = dice.between(38, 56);
  const strokes: Stroke[] = [];
  let direction: 1 | -1 = dice.chance(0.5) ? 1 : -1;
  let time = dice.between(-7, 2);
  const turning = dice.between(4, 13);
  const resting = dice.between(1.5, 6);
  while (time < seconds) {
    const end = time + turning * dice.between(0.9, 1.1);
    if (end > 0) strokes.push({ start: time, end, direction });
    time = end + resting * dice.between(0.8, 1.2);
    direction = direction === 1 ? -1 : 1;
  }
  const swing = dice.between(0.01, 0.06);
  const drumRpm = curve(seconds, (at) => {
    const stroke = strokes.find((one) => at >= one.start && at <= one.end);
    if (!stroke) return 0;
    const shape = ramp((at - stroke.start) / 0.9) * ramp((stroke.end - at) / 0.7);
    // The load is lifted and falls: the drum's speed breathes with it.
    return rpm * shape * (1 + swing * Math.sin((2 * Math.PI * at * rpm) / 60));
  });
  const inputHz = drumRpm.map((value) => value / 60);
  return { strokes, drumRpm, inputHz, motorHz: inputHz.map((value) => value * machine.ratio) };
}

function drawAgitation(seconds: number, machine: Machine, dice: Dice): WashCourse {
  const geared = machine.id === "top-load-coupled" || machine.id === "top-load-belt-reversing";
  const perMinute = geared ? dice.between(110, 185) : dice.ratio(38, 150);
  const period = 60 / perMinute;
  const share = geared ? 0.98 : dice.between(0.5, 0.85);
  const strokes: Stroke[] = [];
  let direction: 1 | -1 = 1;
  for (let time = -dice.unit() * period; time < seconds; time += period) {
    const start = time + 0.02 * period * dice.bell();
    strokes.push({ start, end: start + period * share, direction });
    direction = direction === 1 ? -1 : 1;
  }
  const full = machine.lineHz / 2 / (1 + dice.between(0.035, 0.05));
  const soft = dice.between(0.15, 0.45);
  let k = 0;
  const lobes = curve(seconds, (at) => {
    while (k + 1 < strokes.length && strokes[k + 1]!.start <= at) k++;
    const { start, end } = strokes[k]!;
    const place = (at - start) / (end - start);
    return geared && machine.id === "top-load-coupled"
      ? Math.abs(Math.sin(Math.PI * place))
      : ramp(place / soft) * ramp((1 - place) / soft);
  });
  const motor = drawMotorOfStroke(machine, lobes, full, dice);
  return { strokes, drumRpm: curve(seconds, () => 0), ...motor };
}

function drawMotorOfStroke(machine: Machine, lobes: Curve, fullHz: number, dice: Dice) {
  if (machine.id === "top-load-coupled") {
    // The motor runs through; a crank in the case makes the strokes.
    const load = dice.between(0.003, 0.015);
    const motorHz = lobes.map((lobe) => fullHz * (1 - load * lobe));
    return { motorHz, inputHz: motorHz };
  }
  if (machine.motor === "direct") {
    const rpm = dice.between(35, 120) * (machine.id === "top-load-direct-geared" ? 5 : 1);
    const inputHz = lobes.map((lobe) => (lobe * rpm) / 60);
    return { motorHz: inputHz, inputHz };
  }
  const motorHz = lobes.map((lobe) => lobe * fullHz);
  return { motorHz, inputHz: motorHz.map((hz) => hz / machine.ratio) };
}

export function drawWash(seconds: number, machine: Machine, dice: Dice): WashCourse {
  return machine.front ? drawTumble(seconds, machine, dice) : drawAgitation(seconds, machine, dice);
}
