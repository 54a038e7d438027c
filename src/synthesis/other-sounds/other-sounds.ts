import type { Random } from "../../foundation/random.js";
import { drawRings, PING, strikeBlow, TICK } from "../faults/knocks.js";
import { mapControl, multiplyByControl } from "../sound/control.js";
import { eventsAtTurns, poissonEvents } from "../sound/events.js";
import { mixInto, setRms } from "../sound/level.js";
import { bandNoise, pinkNoise, slowDrift } from "../sound/noise.js";
import { CONTROL_HZ, RATE_HZ, controlCount } from "../sound/rate.js";
import { addRing } from "../sound/strike.js";
import { addTone, harmonicTable, modulate, stack, steadyTurns } from "../sound/tone.js";
import { integrateSpeed } from "../sound/turns.js";
import type { OtherSoundKind } from "./kinds.js";
import { babble, crowd } from "./voices.js";

type Maker = (sampleCount: number, random: Random) => Float64Array;

const swell = (sampleCount: number, random: Random, steps: number, depth: number): Float64Array =>
  slowDrift(controlCount(sampleCount), random, steps).map((value) => Math.exp(depth * value));

const rain: Maker = (n, random) => {
  const out = bandNoise(n, random, random.between(300, 1500), random.between(7e3, 15e3));
  multiplyByControl(out, swell(n, random, 200, 0.2));
  const rate = random.between(15, 120);
  for (const place of poissonEvents(n, () => rate, rate, random)) {
    const ring = {
      hz: random.between(700, 6e3),
      decaySeconds: random.between(1e-3, 0.01),
      gain: 1,
    };
    addRing(out, place, 2 * Math.exp(0.7 * random.normal()), ring);
  }
  return out;
};

// Blades and motor of anything that only blows air: one speed, wandering little.
function blower(n: number, random: Random, shaftHz: number, hissHz: number): Float64Array {
  const drift = slowDrift(controlCount(n), random, 150);
  const turns = integrateSpeed(
    drift.map((value) => shaftHz * (1 + 0.003 * value)),
    n,
  );
  const out = bandNoise(n, random, 100, hissHz);
  const tones = new Float64Array(n);
  addTone(tones, turns, random.integer(3, 9), harmonicTable(stack(4, 1, random), random));
  addTone(tones, turns, 1, harmonicTable(stack(3, 1, random), random), 0.3);
  return mixInto(out, setRms(tones, random.between(0.1, 0.6)));
}

const drill: Maker = (n, random) => {
  const count = controlCount(n);
  const speed = new Float64Array(count);
  let t = random.between(0, 1);
  while (t < count / CONTROL_HZ) {
    const length = random.between(1, 6);
    const hz = random.between(120, 400);
    for (let k = Math.round(t * CONTROL_HZ); k < (t + length) * CONTROL_HZ && k < count; k++) {
      const u = k / CONTROL_HZ - t;
      speed[k] = hz * Math.max(0, Math.min(1, u / 0.3, (length - u) / 0.2));
    }
    t += length + random.between(0.2, 1.5);
  }
  const turns = integrateSpeed(speed, n);
  const out = bandNoise(n, random, 800, 9000);
  addTone(out, turns, random.integer(8, 24), harmonicTable(stack(3, 1, random), random));
  addTone(out, turns, 1, harmonicTable(stack(8, 0.8, random), random), 0.7);
  return multiplyByControl(
    out,
    mapControl(speed, (hz) => 0.03 + (hz / 300) ** 1.2),
  );
};

const traffic: Maker = (n, random) => {
  const out = pinkNoise(n, random);
  multiplyByControl(out, swell(n, random, 300, 0.2));
  const passes = random.integer(2, 6);
  for (let pass = 0; pass < passes; pass++) {
    const car = bandNoise(n, random, 60, random.between(800, 2500));
    const centre = random.between(0, n / RATE_HZ);
    const width = random.between(0.8, 3);
    const gate = new Float64Array(controlCount(n)).map((_, k) =>
      Math.exp(-(((k / CONTROL_HZ - centre) / width) ** 2)),
    );
    mixInto(out, multiplyByControl(car, gate), random.between(1, 4));
  }
  return out;
};

const clock: Maker = (n, random) => {
  const out = setRms(pinkNoise(n, random), 0.01);
  const beat = steadyTurns(n, random.pick([1, 2, 4, 5]), random);
  const blow = { rings: drawRings(TICK, random), contactSeconds: 1e-4, spread: 0.1 };
  let odd = false;
  for (const place of eventsAtTurns(beat, { perTurn: 1 }, random)) {
    odd = !odd;
    strikeBlow(out, place, odd ? 1 : 0.7, blow, random);
  }
  return out;
};

const music: Maker = (n, random) => {
  const out = setRms(pinkNoise(n, random), 0.005);
  const beatSeconds = random.between(0.3, 0.7);
  const root = random.between(110, 220);
  const scale = [0, 2, 4, 5, 7, 9, 11, 12];
  for (let t = 0; t < n / RATE_HZ; t += beatSeconds) {
    for (let voice = 0; voice < 3; voice++) {
      if (random.chance(0.3)) continue;
      const hz = root * 2 ** (random.pick(scale) / 12) * random.pick([1, 2, 4]);
      for (let h = 1; h <= 5; h++) {
        const ring = { hz: h * hz, decaySeconds: random.between(0.15, 0.5) / h, gain: 1 / h };
        addRing(out, t * RATE_HZ, random.between(0.05, 0.2), ring);
      }
    }
  }
  return out;
};

const dishes: Maker = (n, random) => {
  const out = setRms(pinkNoise(n, random), 0.02);
  const rate = random.between(1, 5);
  for (const place of poissonEvents(n, () => rate, rate, random)) {
    const rings = drawRings({ ...PING, count: 5, decaySeconds: [0.02, 0.2] }, random);
    strikeBlow(out, place, 0.4, { rings, contactSeconds: 2e-4, spread: 0.7 }, random);
  }
  return out;
};

const lawnMower: Maker = (n, random) => {
  const drift = slowDrift(controlCount(n), random, 40);
  const firing = random.between(22, 55);
  const turns = integrateSpeed(
    drift.map((value) => firing * (1 + 0.02 * value)),
    n,
  );
  const out = new Float64Array(n);
  addTone(out, turns, 1, harmonicTable(stack(24, 0.7, random), random));
  addTone(out, turns, 0.5, harmonicTable(stack(6, 0.9, random), random), 0.4);
  setRms(out, 1);
  const rush = bandNoise(n, random, 200, 6000);
  modulate(rush, turns, 1, random.between(0.3, 0.8));
  return mixInto(out, rush, random.between(0.3, 0.9));
};

const wind: Maker = (n, random) => {
  const out = bandNoise(n, random, 25, random.between(150, 500));
  multiplyByControl(out, swell(n, random, 60, 0.8));
  const whistle = bandNoise(n, random, 400, 900);
  multiplyByControl(whistle, swell(n, random, 90, 1.2));
  return mixInto(out, whistle, random.between(0.05, 0.3));
};

const MAKERS: Readonly<Record<OtherSoundKind, Maker>> = {
  rain,
  babble,
  fan: (n, random) => blower(n, random, random.between(10, 25), random.between(800, 3000)),
  drill,
  traffic,
  clock,
  music,
  dishes,
  "hair-dryer": (n, random) =>
    blower(n, random, random.between(150, 300), random.between(5e3, 9e3)),
  "lawn-mower": lawnMower,
  wind,
  crowd,
};

/** A sound that is no washer, unit RMS, at 48 kHz. Shape [sampleCount]. */
export const otherSound = (
  kind: OtherSoundKind,
  sampleCount: number,
  random: Random,
): Float64Array => setRms(MAKERS[kind](sampleCount, random), 1);
