import { CONTROL_HZ, RATE_HZ, controlCount } from "../sound/rate.js";
import { smooth } from "../sound/control.js";
import { stillProgramme, type Programme } from "./motion.js";
import { inductionHz, type ProgrammeWish } from "./programme-wish.js";

/** A motor that turns one way; a gear case makes the strokes of it. */
function gearedStrokes(wish: ProgrammeWish): Programme {
  const { random } = wish;
  const count = controlCount(wish.sampleCount);
  const cycleHz = random.between(0.8, 1.7);
  const arcTurns = random.between(0.35, 0.75);
  const start = wish.needs.includes("late-start") ? 0.55 * (wish.sampleCount / RATE_HZ) : 0;
  const on = new Float64Array(count).map((_, k) => (k / CONTROL_HZ >= start ? 1 : 0));
  const eased = smooth(on, start > 0 ? 20 : 0);
  const jerks: number[] = [];
  for (let t = 0.25 / cycleHz; t < count / CONTROL_HZ; t += 0.5 / cycleHz) jerks.push(t);
  return {
    ...stillProgramme(wish.sampleCount),
    agitatorHz: eased.map(
      (value, k) =>
        value * Math.PI * arcTurns * cycleHz * Math.cos((2 * Math.PI * cycleHz * k) / CONTROL_HZ),
    ),
    motorHz: eased.map((value) => value * inductionHz(wish)),
    powered: on,
    torque: eased.map((_, k) => 0.5 + 0.4 * Math.cos((4 * Math.PI * cycleHz * k) / CONTROL_HZ)),
    jerks: jerks.filter((t) => t > start),
    story: "agitate",
  };
}

/** A motor that reverses with every stroke. */
function reversingStrokes(wish: ProgrammeWish): Programme {
  const { random } = wish;
  const duration = wish.sampleCount / RATE_HZ;
  const count = controlCount(wish.sampleCount);
  const stroke = random.between(0.3, 1.1);
  const dwell = random.between(0.08, 0.45);
  const peakHz = random.between(0.9, 2.6);
  const start = wish.needs.includes("late-start") ? 0.55 * duration : random.between(0, 0.3);
  const gate = new Float64Array(count);
  const jerks: number[] = [];
  let direction = 1;
  for (let t = start; t < duration; t += stroke + dwell) {
    jerks.push(t, t + stroke);
    const end = Math.min(count, Math.round((t + stroke) * CONTROL_HZ));
    gate.fill(direction, Math.round(t * CONTROL_HZ), end);
    direction = -direction;
  }
  const ease = Math.max(2, Math.round(random.between(0.08, 0.3) * stroke * CONTROL_HZ));
  const eased = smooth(smooth(gate, ease), ease >> 1);
  return {
    ...stillProgramme(wish.sampleCount),
    agitatorHz: eased.map((value) => value * peakHz),
    powered: smooth(gate.map(Math.abs), 3),
    torque: gate.map((value, k) => 0.3 * value + 0.7 * (value - eased[k]!)),
    jerks: jerks.filter((t) => t < duration),
    story: "agitate",
  };
}

/** A top loader's wash: agitator strokes with the drum held. */
export const strokeProgramme = (wish: ProgrammeWish): Programme =>
  wish.washer.build.gears === "fixed" ? gearedStrokes(wish) : reversingStrokes(wish);
