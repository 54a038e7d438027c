import { CONTROL_HZ, RATE_HZ, controlCount } from "../sound/rate.js";
import { motorLeftBehind, stillProgramme, type Programme } from "./motion.js";
import type { ProgrammeWish } from "./programme-wish.js";

/** Turned by hand with the plug pulled: pushes that die away. */
export function handProgramme(wish: ProgrammeWish): Programme {
  const { random } = wish;
  const duration = wish.sampleCount / RATE_HZ;
  const drumHz = new Float64Array(controlCount(wish.sampleCount));
  const jerks: number[] = [];
  let t = random.between(0.2, 1);
  while (t < duration) {
    const length = random.between(2.5, 7);
    const fastest = wish.drumRpm ? wish.drumRpm / 60 : random.between(0.7, 2.2);
    jerks.push(t);
    const first = Math.round(t * CONTROL_HZ);
    const last = Math.min(drumHz.length, Math.round((t + length) * CONTROL_HZ));
    for (let k = first; k < last; k++) {
      const u = (k - first) / (length * CONTROL_HZ);
      drumHz[k] = fastest * Math.min(1, u / 0.1) * (1 - u) ** 0.8;
    }
    t += length + random.between(0.2, 1.5);
  }
  return {
    ...stillProgramme(wish.sampleCount),
    drumHz,
    motorHz: motorLeftBehind(wish),
    torque: drumHz.map((hz) => (hz > 0 ? 0.1 : 0)),
    jerks,
    story: "pushed by hand",
  };
}
