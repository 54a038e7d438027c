import type { Random } from "../../foundation/random.js";
import { applyBiquad, bandPass } from "../sound/filters.js";
import { mixInto, setRms } from "../sound/level.js";
import { multiplyByControl } from "../sound/control.js";
import { bandNoise, pinkNoise, slowDrift } from "../sound/noise.js";
import { CONTROL_HZ, controlCount } from "../sound/rate.js";
import { addTone, harmonicTable } from "../sound/tone.js";
import { integrateSpeed } from "../sound/turns.js";

// Loudness of someone talking: syllables four times a second or so, with pauses.
function syllables(count: number, random: Random): Float64Array {
  const gate = new Float64Array(count);
  let t = random.between(0, 1);
  while (t < count / CONTROL_HZ) {
    const length = random.between(0.09, 0.28);
    const loud = Math.exp(0.4 * random.normal());
    const first = Math.round(t * CONTROL_HZ);
    const last = Math.min(count, Math.round((t + length) * CONTROL_HZ));
    for (let k = first; k < last; k++) {
      gate[k] = loud * Math.sin((Math.PI * (k - first)) / (last - first)) ** 0.6;
    }
    t += length + (random.chance(0.15) ? random.between(0.3, 1.2) : random.between(0.01, 0.08));
  }
  return gate;
}

/** One voice: a glottal buzz of wandering pitch through two wandering formants, and hiss between. */
function voice(sampleCount: number, random: Random): Float64Array {
  const count = controlCount(sampleCount);
  const base = random.between(95, 240);
  const pitch = slowDrift(count, random, 25).map((value) => base * Math.exp(0.12 * value));
  const buzz = new Float64Array(sampleCount);
  const glottal = Array.from({ length: 28 }, (_, k) => 1 / (k + 1));
  addTone(buzz, integrateSpeed(pitch, sampleCount), 1, harmonicTable(glottal, random));
  const out = new Float64Array(sampleCount);
  for (const [low, high] of [
    [300, 850],
    [900, 2300],
    [2300, 3200],
  ] as const) {
    // Two fixed resonances whose loudness trades places stand for a formant on the move.
    for (const side of [0, 1]) {
      const part = applyBiquad(buzz.slice(), bandPass(random.between(low, high), 6));
      const share = slowDrift(count, random, 20 + 8 * side).map((value) => Math.exp(0.8 * value));
      mixInto(out, multiplyByControl(part, share));
    }
  }
  multiplyByControl(setRms(out, 1), syllables(count, random));
  const hiss = bandNoise(sampleCount, random, 3500, 8000);
  multiplyByControl(hiss, syllables(count, random));
  return mixInto(out, hiss, 0.15);
}

/** One to three people talking. */
export function babble(sampleCount: number, random: Random): Float64Array {
  const out = setRms(pinkNoise(sampleCount, random), 0.05);
  const people = random.integer(1, 3);
  for (let i = 0; i < people; i++) mixInto(out, voice(sampleCount, random));
  return out;
}

/** Many people talking at once. */
export function crowd(sampleCount: number, random: Random): Float64Array {
  const out = setRms(bandNoise(sampleCount, random, 200, 1500), 1);
  for (let i = 0; i < 5; i++) {
    mixInto(out, setRms(voice(sampleCount, random), 1), random.between(0.3, 0.8));
  }
  return out;
}
