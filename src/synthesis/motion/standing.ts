import { CONTROL_HZ, RATE_HZ, controlCount } from "../sound/rate.js";
import { smooth } from "../sound/control.js";
import { stillProgramme, type Programme } from "./motion.js";
import { inductionHz, type ProgrammeWish } from "./programme-wish.js";

/** Filling: nothing turns. */
export const fillProgramme = (wish: ProgrammeWish): Programme => ({
  ...stillProgramme(wish.sampleCount),
  story: "fill",
});

/** Draining: the pump runs; where the wash motor drives it, that runs too. */
export function drainProgramme(wish: ProgrammeWish): Programme {
  const { random, washer } = wish;
  const duration = wish.sampleCount / RATE_HZ;
  const start = random.chance(0.5) ? -1 : random.between(0.3, 1.8);
  const stop = random.chance(0.3) ? random.between(0.8, 0.97) * duration : duration + 1;
  const gate = new Float64Array(controlCount(wish.sampleCount)).map((_, k) => {
    const t = k / CONTROL_HZ;
    return t >= start && t < stop ? 1 : 0;
  });
  const eased = smooth(gate, 12);
  const byMotor = washer.pump === "wash-motor" || wish.needs.includes("pump");
  const motor = byMotor && washer.build.pumpOnWashMotor;
  return {
    ...stillProgramme(wish.sampleCount),
    motorHz: motor ? eased.map((on) => on * inductionHz(wish)) : null,
    powered: motor ? gate : new Float64Array(gate.length),
    pump: eased,
    jerks: start > 0 ? [start] : [],
    story: "drain",
  };
}
