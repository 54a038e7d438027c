import { growth, largest, mapControl, multiplyByControl } from "../sound/control.js";
import { mixInto, setRms } from "../sound/level.js";
import { bandNoise } from "../sound/noise.js";
import {
  addTone,
  fittingHarmonics,
  harmonicTable,
  modulate,
  stack,
  steadyTurns,
} from "../sound/tone.js";
import type { BackgroundSound, Stage } from "../stage.js";
import { motorHum } from "./hum.js";

// A tone of so many events per motor turn, with harmonics and faint once-per-turn sidebands.
function addOrder(stage: Stage, out: Float64Array, order: number, gain: number): void {
  const { random, motion } = stage;
  const fastest = largest(motion.motorSpeedHz) * order;
  const harmonics = fittingHarmonics(3, fastest);
  if (harmonics === 0) return;
  const tone = new Float64Array(out.length);
  const table = harmonicTable(stack(harmonics, 1.2, random), random);
  addTone(tone, motion.motorTurns, order, table);
  modulate(tone, motion.motorTurns, 1, random.between(0.02, 0.3));
  mixInto(out, tone, gain);
}

function universal(stage: Stage): Float64Array {
  const { random, motion, washer, sampleCount, lineHz } = stage;
  const out = new Float64Array(sampleCount);
  addOrder(stage, out, 1, random.between(0.2, 1));
  addOrder(stage, out, washer.bars, random.between(0.2, 0.8));
  addOrder(
    stage,
    out,
    Math.round(washer.bars / random.pick([1, 2, 2, 3])),
    random.between(0.1, 0.6),
  );
  const rush = bandNoise(sampleCount, random, 1500, random.between(5e3, 13e3));
  modulate(rush, motion.motorTurns, washer.bars, random.between(0, 0.5));
  mixInto(out, rush, random.between(0.2, 0.8));
  const exponent = random.between(0.6, 1.6);
  multiplyByControl(out, growth(motion.motorSpeedHz, 100, exponent));
  // A triac chops the current: torque pulsates at twice the line.
  const chopped = new Float64Array(sampleCount);
  const table = harmonicTable(stack(8, 0.7, random), random);
  addTone(chopped, steadyTurns(sampleCount, 2 * lineHz, random), 1, table);
  multiplyByControl(chopped, motion.powered);
  return mixInto(out, setRms(chopped, random.between(0.05, 0.5)));
}

// Inverters put a fixed carrier beside the orders of the current they make.
function addCarrier(stage: Stage, out: Float64Array, electricalOrder: number): void {
  const { random, motion, washer, sampleCount } = stage;
  const carrier = new Float64Array(sampleCount);
  addTone(
    carrier,
    steadyTurns(sampleCount, washer.carrierHz, random),
    1,
    harmonicTable([1], random),
  );
  modulate(carrier, motion.motorTurns, 2 * electricalOrder, random.between(0.3, 1));
  multiplyByControl(carrier, motion.powered);
  mixInto(out, carrier, random.between(0, 0.12));
}

function inverterInduction(stage: Stage): Float64Array {
  const { random, motion, washer, sampleCount } = stage;
  const out = new Float64Array(sampleCount);
  const electrical = washer.poles / 2 / (1 - washer.inductionSlip);
  addOrder(stage, out, 1, random.between(0.1, 0.5));
  addOrder(stage, out, 2 * electrical, random.between(0.3, 1));
  addOrder(stage, out, 6 * electrical, random.between(0.1, 0.6));
  addOrder(stage, out, washer.bars, random.between(0.1, 0.5));
  addOrder(stage, out, washer.bars + 2 * electrical, random.between(0.1, 0.5));
  multiplyByControl(out, growth(motion.motorSpeedHz, 100, random.between(0.3, 1.2)));
  addCarrier(stage, out, electrical);
  return out;
}

function magnetMotor(stage: Stage): Float64Array {
  const { random, motion, washer, sampleCount } = stage;
  const out = new Float64Array(sampleCount);
  const pairs = washer.poles / 2;
  addOrder(stage, out, 2 * pairs, random.between(0.3, 1));
  addOrder(stage, out, 6 * pairs, random.between(0.2, 1));
  addOrder(stage, out, random.pick([2, 3]) * washer.slots, random.between(0.05, 0.4));
  const reference = washer.build.belt ? 100 : 10;
  multiplyByControl(out, growth(motion.motorSpeedHz, reference, random.between(0.2, 1.2)));
  multiplyByControl(
    out,
    mapControl(motion.powered, (on) => 0.25 + 0.75 * on),
  );
  addCarrier(stage, out, pairs);
  return out;
}

function mainsInduction(stage: Stage): Float64Array {
  const { random, motion, washer, sampleCount } = stage;
  const out = new Float64Array(sampleCount);
  addOrder(stage, out, 1, random.between(0.2, 1));
  addOrder(stage, out, washer.bars, random.between(0.2, 0.8));
  addOrder(stage, out, washer.bars + 4, random.between(0.1, 0.5));
  const rush = bandNoise(sampleCount, random, 300, random.between(1500, 9e3));
  mixInto(out, rush, random.between(0.2, 1));
  return multiplyByControl(out, growth(motion.motorSpeedHz, 25, random.between(0.5, 1.5)));
}

/** The sound of a sound motor. */
export function motorSounds(stage: Stage): BackgroundSound[] {
  const { random, washer } = stage;
  const levelDb = random.between(-6, 4);
  switch (washer.build.motor) {
    case "universal":
      return [{ path: "motor", levelDb, samples: universal(stage) }];
    case "induction-inverter":
      return [{ path: "motor", levelDb, samples: inverterInduction(stage) }];
    case "induction-mains":
      return [{ path: "motor", levelDb, samples: mainsInduction(stage) }, motorHum(stage)];
    default:
      return [{ path: "motor", levelDb, samples: magnetMotor(stage) }];
  }
}
