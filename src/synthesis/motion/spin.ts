import { CONTROL_HZ, RATE_HZ, controlCount } from "../sound/rate.js";
import { smooth } from "../sound/control.js";
import { slowDrift } from "../sound/noise.js";
import { stillProgramme, type Programme } from "./motion.js";
import { motorToDrum } from "../washer/drawn-washer.js";
import { inductionHz, type ProgrammeWish } from "./programme-wish.js";

/** Corner of a speed plan. */
type Corner = readonly [seconds: number, rpm: number];

/** Straight lines between corners, held before the first and after the last. */
export function followCorners(corners: readonly Corner[], count: number): Float64Array {
  let at = 0;
  return new Float64Array(count).map((_, k) => {
    const t = k / CONTROL_HZ;
    while (at + 1 < corners.length && corners[at + 1]![0] <= t) at++;
    const [t0, n0] = corners[at]!;
    if (t <= t0 || at + 1 >= corners.length) return n0;
    const [t1, n1] = corners[at + 1]!;
    return n0 + ((n1 - n0) * (t - t0)) / (t1 - t0);
  });
}

const seconds = (wish: ProgrammeWish): number => wish.sampleCount / RATE_HZ;

/** The spin speed that the machine is going for. */
export function targetRpm(wish: ProgrammeWish): number {
  const { washer, random, drumRpm } = wish;
  if (drumRpm !== null) return drumRpm;
  // On the mains the motor's speed, and with it the drum's, is given by the line.
  if (washer.build.motor === "induction-mains") {
    return (60 * inductionHz(wish)) / motorToDrum(washer);
  }
  return random.between(...washer.build.spinRpm);
}

/** How fast a drum gains speed, rpm per second: 1200 rpm in a minute or more, 700 in 20 s (from memory). */
const GAIN: Readonly<Record<"horizontal" | "vertical", readonly [number, number]>> = {
  horizontal: [8, 35],
  vertical: [15, 55],
};

function runUp(wish: ProgrammeWish, full: number): Corner[] {
  const { random, washer, needs } = wish;
  const duration = seconds(wish);
  const front = washer.build.axis === "horizontal";
  // What sounds on the way through the suspension's own speed needs the foot of the run-up.
  const foot = needs.includes("run-up") || needs.includes("late-start") || random.chance(0.4);
  const start = foot ? (front ? random.between(45, 95) : 0) : full * random.between(0.25, 0.6);
  const gain = random.between(...GAIN[washer.build.axis]);
  const top = Math.min(full, start + gain * 0.7 * duration);
  const hold = wish.needs.includes("late-start") ? random.between(0.5, 0.7) : 0;
  const corners: Corner[] = [[0, hold > 0 ? 0 : start]];
  let t = hold > 0 ? hold * duration : random.between(0.3, 0.12 * duration);
  corners.push([t, hold > 0 ? 0 : start]);
  const steps = random.integer(0, 2);
  const end = hold > 0 ? 0.97 * duration : random.between(0.6, 0.95) * duration;
  const rise = (end - t) / (steps + 1);
  let speed = start;
  for (let i = 0; i <= steps; i++) {
    const pause = i < steps ? random.between(0.1, 0.35) * rise : 0;
    speed = i === steps ? top : speed + (top - speed) * random.between(0.3, 0.6);
    corners.push([t + rise - pause, speed], [t + rise, speed]);
    t += rise;
  }
  return corners;
}

/** A front loader that finds its load uneven starts over at 50 to 100 rpm, several times. */
function redistribution(wish: ProgrammeWish): Corner[] {
  const { random } = wish;
  const corners: Corner[] = [];
  let t = 0;
  while (t < seconds(wish)) {
    const slow = random.between(38, 55);
    const fast = random.between(75, 110);
    const [climb, hold, fall] = [
      random.between(1, 3),
      random.between(1, 4),
      random.between(0.8, 2),
    ];
    corners.push([t, slow], [t + climb, fast], [t + climb + hold, fast]);
    t += climb + hold + fall;
  }
  return corners;
}

/** An older top loader's motor runs at once; its clutch slips until the basket has caught up. */
function clutchedMotor(wish: ProgrammeWish, drumHz: Float64Array): Float64Array | null {
  if (wish.washer.build.gears !== "fixed") return null;
  const full = drumHz.map((hz) => (hz > 0 ? inductionHz(wish) : 0));
  return smooth(full, 20);
}

function planSpin(wish: ProgrammeWish, top: number): { corners: Corner[]; story: string } {
  const { random, needs } = wish;
  if (needs.includes("run-up") || needs.includes("late-start") || random.chance(0.4)) {
    return { corners: runUp(wish, top), story: "run-up" };
  }
  if (wish.washer.build.axis === "horizontal" && random.chance(0.15)) {
    return { corners: redistribution(wish), story: "redistribution" };
  }
  if (random.chance(0.5)) return { corners: [[0, top]], story: "plateau" };
  const duration = seconds(wish);
  const arrival = random.between(0.3, 0.9) * duration;
  return {
    corners: [
      [0, top * random.between(0.35, 0.75)],
      [arrival, top],
    ],
    story: "late ramp",
  };
}

/** A single-phase motor is pulsed on the way up: power goes on and off while the drum climbs. */
function pulsePower(wish: ProgrammeWish, rising: Float64Array): Float64Array {
  const period = wish.random.between(2, 6);
  const share = wish.random.between(0.5, 0.8);
  const pulsed = wish.washer.build.motor === "induction-mains" && wish.random.chance(0.4);
  return rising.map((slope, k) =>
    pulsed && slope > 0 && ((k / CONTROL_HZ) % period) / period > share ? 0 : 1,
  );
}

function jerksOf(drumHz: Float64Array, torque: Float64Array): number[] {
  const jerks: number[] = [];
  for (let k = 60; k < torque.length; k++) {
    const stepped = Math.abs(torque[k]! - torque[k - 60]!) > 0.3;
    const started = drumHz[k - 1]! === 0 && drumHz[k]! > 0;
    const last = jerks[jerks.length - 1] ?? -1;
    if ((stepped || started) && k / CONTROL_HZ - last > 0.6) jerks.push(k / CONTROL_HZ);
  }
  return jerks;
}

/** When the drain pump runs during the spin. */
function pumpDuringSpin(wish: ProgrammeWish, count: number): Float64Array {
  const { random } = wish;
  const runs = wish.needs.includes("pump") || random.chance(0.5);
  if (!runs) return new Float64Array(count);
  const pulsed = random.chance(0.4);
  const period = random.between(3, 7);
  const share = random.between(0.4, 0.8);
  const offset = random.between(0, period);
  const gate = new Float64Array(count).map((_, k) =>
    !pulsed || ((k / CONTROL_HZ + offset) % period) / period < share ? 1 : 0,
  );
  return smooth(gate, 8);
}

/** The spin: run-up with steps, a late part of the ramp, or the plateau. */
export function spinProgramme(wish: ProgrammeWish): Programme {
  const { random } = wish;
  const count = controlCount(wish.sampleCount);
  const top = targetRpm(wish);
  const { corners, story } = planSpin(wish, top);
  const plan = smooth(followCorners(corners, count), Math.round(0.15 * CONTROL_HZ));
  const drift = slowDrift(count, random, CONTROL_HZ * random.between(0.3, 1.5));
  const wander = random.between(0.0005, 0.004);
  const drumHz = plan.map((rpm, k) => (rpm / 60) * (1 + wander * drift[k]!));
  const slope = plan.map((rpm, k) => (plan[Math.min(count - 1, k + 1)]! - rpm) * CONTROL_HZ);
  const steepest = slope.reduce((top2, value) => Math.max(top2, Math.abs(value)), 1);
  const powered = pulsePower(wish, slope).map((on, k) => (drumHz[k]! > 0 ? on : 0));
  const torque = smooth(
    slope.map((value, k) => (drumHz[k]! > 0 ? 0.2 + (0.8 * value) / steepest : 0)),
    10,
  );
  return {
    ...stillProgramme(wish.sampleCount),
    drumHz,
    motorHz: clutchedMotor(wish, drumHz),
    powered: smooth(powered, 6),
    torque,
    pump: pumpDuringSpin(wish, count),
    jerks: jerksOf(drumHz, torque),
    story,
  };
}
