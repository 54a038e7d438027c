import { multiplyByControl } from "../sound/control.js";
import { addTone, harmonicTable, modulate, stack, steadyTurns } from "../sound/tone.js";
import type { Random } from "../../foundation/random.js";
import type { BackgroundSound, Stage } from "../stage.js";

/** Adds the comb of an iron core on the mains: even multiples of the line, the first strongest. */
export function addMainsComb(
  out: Float64Array,
  lineTurns: Float64Array,
  steepness: number,
  random: Random,
): void {
  const even = stack(random.integer(3, 9), steepness, random);
  addTone(out, lineTurns, 2, harmonicTable(even, random));
  const odd = stack(4, 1, random).map((a, k) => (k % 2 === 0 ? 0.08 * a : 0));
  addTone(out, lineTurns, 1, harmonicTable(odd, random));
}

/** Faint hum of the supply and its filters, there as long as the plug is in. */
export function supplyHum(stage: Stage): BackgroundSound {
  const { random, sampleCount, lineHz } = stage;
  const samples = new Float64Array(sampleCount);
  addMainsComb(samples, steadyTurns(sampleCount, lineHz, random), random.between(1, 2), random);
  return { path: "cabinet", levelDb: random.between(-24, -8), samples };
}

/** Hum of a motor wound for the mains, beating at its pole-pass rate 2 s f. */
export function motorHum(stage: Stage): BackgroundSound {
  const { random, sampleCount, lineHz, motion, washer } = stage;
  const samples = new Float64Array(sampleCount);
  const lineTurns = steadyTurns(sampleCount, lineHz, random);
  addMainsComb(samples, lineTurns, random.between(0.8, 1.6), random);
  modulate(samples, lineTurns, 2 * washer.inductionSlip, random.between(0, 0.4));
  multiplyByControl(samples, motion.powered);
  return { path: "motor", levelDb: random.between(-4, 5), samples };
}

/** The buzz of the energised inlet valve. */
export function valveHum(stage: Stage): BackgroundSound {
  const { random, sampleCount, lineHz } = stage;
  const samples = new Float64Array(sampleCount);
  addMainsComb(samples, steadyTurns(sampleCount, lineHz, random), random.between(0.8, 1.5), random);
  return { path: "pump", levelDb: random.between(-14, -4), samples };
}
