import { CONTROL_HZ, RATE_HZ, controlCount } from "../sound/rate.js";
import { smooth } from "../sound/control.js";
import { slowDrift } from "../sound/noise.js";
import { stillProgramme, type Programme } from "./motion.js";
import type { ProgrammeWish } from "./programme-wish.js";

interface Turn {
  readonly start: number;
  readonly end: number;
  readonly direction: number;
}

function planTurns(wish: ProgrammeWish, duration: number): Turn[] {
  const { random } = wish;
  const turns: Turn[] = [];
  const on = random.between(3.5, 12);
  const off = random.between(1, 4);
  const late = wish.needs.includes("late-start") ? 0.55 * duration : 0;
  let t = late > 0 ? late : random.chance(0.6) ? -random.between(0, on) : random.between(0.2, off);
  let direction = random.chance(0.5) ? 1 : -1;
  while (t < duration) {
    const length = on * random.between(0.85, 1.15);
    turns.push({ start: t, end: t + length, direction });
    t += length + off;
    direction = -direction;
  }
  return turns;
}

/** A front loader's wash: turning one way, a pause, turning the other way. */
export function tumbleProgramme(wish: ProgrammeWish): Programme {
  const { random } = wish;
  const duration = wish.sampleCount / RATE_HZ;
  const count = controlCount(wish.sampleCount);
  const turns = planTurns(wish, duration);
  const rpm = wish.drumRpm ?? random.between(36, 60);
  const gate = new Float64Array(count).map((_, k) => {
    const t = k / CONTROL_HZ;
    return turns.find((turn) => t >= turn.start && t < turn.end)?.direction ?? 0;
  });
  const ease = Math.round(random.between(0.2, 0.6) * CONTROL_HZ);
  const drift = slowDrift(count, random, CONTROL_HZ * random.between(0.4, 1.2));
  const sway = random.between(0.005, 0.04);
  const eased = smooth(gate, ease);
  return {
    ...stillProgramme(wish.sampleCount),
    drumHz: eased.map((value, k) => ((value * rpm) / 60) * (1 + sway * drift[k]!)),
    powered: smooth(gate.map(Math.abs), 4),
    torque: gate.map((value, k) => 0.25 * value + 0.75 * (value - eased[k]!)),
    jerks: turns.flatMap((turn) => [turn.start, turn.end]).filter((t) => t > 0 && t < duration),
    story: "tumble",
  };
}
