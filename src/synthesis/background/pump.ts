import { controlAt, largest, multiplyByControl } from "../sound/control.js";
import { mixInto, setRms } from "../sound/level.js";
import { addRing } from "../sound/strike.js";
import { bandNoise } from "../sound/noise.js";
import { RATE_HZ } from "../sound/rate.js";
import { addTone, harmonicTable, stack, steadyTurns } from "../sound/tone.js";
import type { Stage } from "../stage.js";
import { addMainsComb } from "./hum.js";

/** Turns of the pump's rotor over the clip. Shape [sampleCount]. */
export function pumpTurns({ washer, motion, random, lineHz, sampleCount }: Stage): Float64Array {
  switch (washer.pump) {
    case "wash-motor":
      if (largest(motion.motorSpeedHz) > 0) return motion.motorTurns;
      return steadyTurns(sampleCount, lineHz * random.between(0.45, 0.55), random);
    case "shaded-pole":
      return steadyTurns(sampleCount, lineHz * random.between(0.86, 0.97), random);
    case "electronic":
      return steadyTurns(sampleCount, random.between(33, 75), random);
    default:
      return steadyTurns(sampleCount, lineHz, random);
  }
}

// The impeller starts with half a turn of play: a double knock.
function startKnock(stage: Stage, out: Float64Array): void {
  const { motion, random } = stage;
  for (let k = 1; k < motion.pump.length; k++) {
    if (motion.pump[k - 1]! > 0.1 || motion.pump[k]! <= 0.1) continue;
    const position = k * 240;
    for (const delay of [0, random.between(0.03, 0.15)]) {
      const ring = {
        hz: random.between(200, 900),
        decaySeconds: random.between(0.01, 0.04),
        gain: 1,
      };
      addRing(out, position + delay * RATE_HZ, random.between(1, 4), ring);
    }
  }
}

/** A healthy pump moving water: torque hum, vane passing and flow. Unit RMS before its gate. */
export function pumpSound(stage: Stage): Float64Array {
  const { random, washer, sampleCount, lineHz, motion } = stage;
  const out = new Float64Array(sampleCount);
  if (washer.pump === "synchronous" || washer.pump === "shaded-pole") {
    addMainsComb(out, steadyTurns(sampleCount, lineHz, random), random.between(0.8, 1.8), random);
  }
  const turns = pumpTurns(stage);
  const vane = harmonicTable(stack(3, 1, random), random);
  addTone(out, turns, washer.vanes, vane, random.between(0.05, 0.5));
  addTone(out, turns, 1, harmonicTable(stack(4, 1, random), random), random.between(0.05, 0.3));
  mixInto(
    out,
    bandNoise(sampleCount, random, 300, random.between(2e3, 9e3)),
    random.between(0.2, 1.2),
  );
  setRms(out, 1);
  multiplyByControl(out, motion.pump);
  startKnock(stage, out);
  return out;
}

/** Whether the pump runs at a sample. */
export const pumpRuns = ({ motion }: Stage, sample: number): boolean =>
  controlAt(motion.pump, sample) > 0.5;
