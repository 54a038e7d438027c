import { CONTROL_HZ, RATE_HZ, controlCount } from "../sound/rate.js";
import { motorLeftBehind, stillProgramme, type Programme } from "./motion.js";
import type { ProgrammeWish } from "./programme-wish.js";
import { targetRpm } from "./spin.js";

function restTime({ random, needs }: ProgrammeWish, duration: number): number {
  if (needs.includes("brake")) return Math.min(0.9 * duration, random.between(3, 9));
  if (needs.includes("to-rest") || random.chance(0.5)) return duration * random.between(0.6, 0.92);
  return duration * random.between(1.3, 4);
}

/**
 * Running down without power: f(t) = f0 (e^(-λt/T) - e^-λ) / (1 - e^-λ), which mixes drag that grows
 * with speed (large λ) and dry friction (small λ) and stands still from T on.
 */
export function coastProgramme(wish: ProgrammeWish): Programme {
  const { random } = wish;
  const duration = wish.sampleCount / RATE_HZ;
  const rest = restTime(wish, duration);
  const bend = random.between(0.3, 2.8);
  const floor = Math.exp(-bend);
  const start = targetRpm(wish) / 60;
  const drumHz = new Float64Array(controlCount(wish.sampleCount)).map((_, k) => {
    const share = k / CONTROL_HZ / rest;
    return share >= 1 ? 0 : (start * (Math.exp(-bend * share) - floor)) / (1 - floor);
  });
  return {
    ...stillProgramme(wish.sampleCount),
    drumHz,
    motorHz: motorLeftBehind(wish),
    torque: drumHz.map((hz) => (hz > 0 ? -0.1 : 0)),
    jerks: rest < duration ? [rest] : [],
    story: rest < duration ? "coast to rest" : "coast",
  };
}
