import type { Dice } from "./dice.js";
import { KNOT_HZ, SPIN_KINDS, type CourseWish, type Habitat, type Knots } from "./knots.js";
import type { Machine } from "./machine.js";

/** Speed by which a drum may crawl and parts still fall about in it. */
const CRAWL_RPM = 62;

function follow(
  machine: Machine,
  rpm: Float64Array,
  dice: Dice,
): Pick<Knots, "drumHz" | "motorHz" | "inputHz"> {
  const drumHz = rpm.map((n) => n / 60);
  const slip = dice.between(0, 0.012);
  const motorHz = drumHz.map((hz) => hz * machine.motorToDrum * (1 + slip));
  return { drumHz, motorHz, inputHz: machine.profile.drive === "coupling" ? motorHz : drumHz };
}

/** An unsteady hand on the throttle: a slow wander of at most about 0.5 %. */
function unsteady(rpm: Float64Array, dice: Dice): Float64Array {
  const depth = dice.between(0.0005, 0.003);
  let [fast, slow] = [0, 0];
  return rpm.map((n) => {
    fast += 0.02 * (dice.bell() - fast);
    slow += 0.01 * (fast * 10 - slow);
    return n * (1 + depth * Math.max(-2, Math.min(2, slow)));
  });
}

function plateauSpeed(machine: Machine, habitat: Habitat, dice: Dice): number {
  if (habitat === "window") return machine.suspensionRpm * dice.between(0.75, 1.25);
  if (machine.profile.motor.kind === "induction-mains") return machine.spinRpm;
  return dice.chance(0.6) ? machine.spinRpm : machine.spinRpm * dice.between(0.35, 0.9);
}

/** Speed gained a second: a mains motor spins up in 20-60 s, a controlled one in minutes, in steps. */
function gainRange(machine: Machine): readonly [number, number] {
  if (machine.profile.motor.kind === "induction-mains") return [10, 35];
  return machine.vertical ? [5, 18] : [5, 30];
}

/** A third hold, a third creep or step towards a hold, a third run up. */
export function spinRpmKnots(machine: Machine, count: number, wish: CourseWish, dice: Dice): Knots {
  const kind = wish.spin ?? dice.pick(SPIN_KINDS);
  const habitat = wish.habitat ?? "any";
  const seconds = count / KNOT_HZ;
  const made =
    habitat === "crawl"
      ? crawl(count, dice)
      : kind === "plateau"
        ? { rpm: new Float64Array(count).fill(plateauSpeed(machine, habitat, dice)) }
        : kind === "slow"
          ? creeping(machine, count, seconds, dice)
          : runUp(machine, count, habitat, dice);
  const rpm = unsteady(made.rpm, dice);
  const held = kind === "plateau" && habitat !== "crawl" ? made.rpm[0] : undefined;
  const pulsed =
    kind === "run-up" && machine.profile.motor.kind === "induction-mains" && dice.chance(0.4);
  const pulse = dice.between(0.1, 0.5);
  const fed = rpm.map((_, k) =>
    pulsed && (pulse * k) / KNOT_HZ - Math.floor((pulse * k) / KNOT_HZ) > 0.65 ? 0 : 1,
  );
  const steepest = 0.6 * gainRange(machine)[1];
  const pull = rpm.map((n, k) => {
    const gain = ((rpm[k + 25] ?? n) - n) * (KNOT_HZ / 25);
    return fed[k]! * Math.max(0.2, Math.min(1, 0.25 + gain / steepest));
  });
  return {
    kind: habitat === "crawl" ? "crawl" : kind,
    ...(held === undefined ? {} : { plateauRpm: held }),
    ...driven(machine, rpm, kind, dice),
    pull,
    fed,
    strokes: [],
  };
}

/** Old drives let the motor run on while a clutch or a slipping belt brings the basket up. */
function driven(
  machine: Machine,
  rpm: Float64Array,
  kind: string,
  dice: Dice,
): Pick<Knots, "drumHz" | "motorHz" | "inputHz"> {
  const rows = follow(machine, rpm, dice);
  const clutched =
    machine.profile.pumpDrivenBy === "wash-motor" && kind !== "plateau" && dice.chance(0.6);
  if (!clutched) return rows;
  const full = (machine.lineHz / 2) * (1 - machine.motorSlip * dice.between(1, 2));
  const motorHz = rows.motorHz.map((hz) => Math.max(hz, full));
  return { ...rows, motorHz, inputHz: motorHz.map((hz) => hz / machine.motorToInput) };
}

function crawl(count: number, dice: Dice): { rpm: Float64Array } {
  const from = dice.between(38, 50);
  const to = dice.between(50, CRAWL_RPM + 20);
  return {
    rpm: Float64Array.from({ length: count }, (_, k) => from + (to - from) * (k / count) ** 2),
  };
}

function creeping(
  machine: Machine,
  count: number,
  seconds: number,
  dice: Dice,
): { rpm: Float64Array } {
  const goal =
    machine.spinRpm * (machine.profile.motor.kind === "induction-mains" ? 1 : dice.between(0.5, 1));
  const gain = dice.spread(1.5, 12);
  const steps = dice.chance(0.4);
  const hold = dice.between(1.5, 5);
  const reach = dice.between(0.4, 1.3) * seconds;
  let rpm = Math.max(0.35 * goal, goal - gain * reach * (steps ? 0.5 : 1));
  let clock = 0;
  const knots = Float64Array.from({ length: count }, () => {
    clock += 1 / KNOT_HZ;
    const resting = steps && clock % (2 * hold) > hold;
    if (!resting) rpm += Math.min(gain / KNOT_HZ, ((goal - rpm) * 1.5) / KNOT_HZ);
    return rpm;
  });
  return { rpm: knots };
}

function runUp(
  machine: Machine,
  count: number,
  habitat: Habitat,
  dice: Dice,
): { rpm: Float64Array } {
  const [low, high] = gainRange(machine);
  const goal = machine.spinRpm;
  const fromLow = habitat === "window" || dice.chance(0.55);
  let rpm = fromLow
    ? dice.between(30, 0.8 * machine.suspensionRpm)
    : dice.between(0.25, 0.7) * goal;
  const gain = dice.spread(low, high);
  const bend = dice.between(-0.6, 0.6);
  const wait = fromLow ? dice.between(0, 3) * KNOT_HZ : 0;
  const knots = Float64Array.from({ length: count }, (_, k) => {
    if (k > wait)
      rpm = Math.min(goal, rpm + (gain * (1 + bend * (1 - (2 * rpm) / goal))) / KNOT_HZ);
    return rpm;
  });
  return { rpm: knots };
}

/** Power cut: friction (even) and windage (with speed) take the drum down in 20-90 s, brakes in seconds. */
export function coastRpmKnots(
  machine: Machine,
  count: number,
  habitat: Habitat,
  dice: Dice,
): Knots {
  const braked = machine.profile.components.includes("spin-brake");
  const toRest = braked ? dice.spread(5, 20) : dice.spread(15, 70);
  const curve = dice.between(0.2, 2.5);
  const fraction = (x: number): number =>
    (Math.exp(-curve * x) - Math.exp(-curve)) / (1 - Math.exp(-curve));
  const seconds = count / KNOT_HZ;
  const low = habitat !== "any";
  const latest = Math.max(0, toRest - 6);
  const began = low
    ? Math.max(0, toRest - seconds * dice.between(0.6, 0.95))
    : Math.min(latest, dice.between(0, 0.6) * toRest);
  const lead = !low && dice.chance(0.3) ? dice.between(0.5, 3) : 0;
  const rpm = Float64Array.from({ length: count }, (_, k) => {
    const age = (began + Math.max(0, k / KNOT_HZ - lead)) / toRest;
    return age >= 1 ? 0 : machine.spinRpm * fraction(age);
  });
  const fed = rpm.map((_, k) => (k / KNOT_HZ < lead ? 1 : 0));
  return {
    kind: "coast",
    ...follow(machine, rpm, dice),
    pull: fed.map((on) => 0.3 * on),
    fed,
    strokes: [],
  };
}

/** Pushes by hand, each dying down by friction; belt and motor are dragged along. */
export function handRpmKnots(machine: Machine, count: number, dice: Dice): Knots {
  const rpm = new Float64Array(count);
  const strokes: Knots["strokes"] = [];
  let at = dice.between(0.2, 1.5);
  let forward = dice.chance(0.5);
  const total = count / KNOT_HZ;
  while (at < total - 1) {
    const top = dice.between(35, 95);
    const rise = dice.between(0.25, 0.8);
    const fall = dice.between(2, 7);
    const bow = dice.between(0.8, 2);
    for (let k = Math.floor(at * KNOT_HZ); k < count; k++) {
      const t = k / KNOT_HZ - at;
      if (t > rise + fall) break;
      rpm[k] =
        t < rise
          ? top * Math.sin((Math.PI / 2) * (t / rise))
          : top * (1 - (t - rise) / fall) ** bow;
    }
    strokes.push({ from: at, to: Math.min(total, at + rise + fall), forward });
    at += rise + fall + dice.between(0.3, 2);
    if (dice.chance(0.4)) forward = !forward;
  }
  const none = new Float64Array(count);
  const rows = follow(machine, rpm, dice);
  return { kind: "hand", ...rows, inputHz: rows.drumHz, pull: none, fed: none, strokes };
}
