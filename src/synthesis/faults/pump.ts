import { pumpRuns, pumpSound, pumpTurns } from "../background/pump.js";
import { addMainsComb } from "../background/hum.js";
import { multiplyByControl } from "../sound/control.js";
import { poissonEvents } from "../sound/events.js";
import { mixInto, setRms } from "../sound/level.js";
import { bandNoise, slowDrift } from "../sound/noise.js";
import { controlCount } from "../sound/rate.js";
import { modulate, steadyTurns } from "../sound/tone.js";
import type { FaultSound, Stage } from "../stage.js";
import { addTurnBlows, drawRings } from "./knocks.js";
import { squeal } from "./squeal.js";

// A stone or coin carried round: knocks at a part of the rotor's rate, with many left out.
function debris(stage: Stage): FaultSound {
  const { random, sampleCount } = stage;
  const samples = new Float64Array(sampleCount);
  const rings = drawRings({ hz: [500, 6000], decaySeconds: [0.001, 0.01], count: 4 }, random);
  addTurnBlows(stage, samples, {
    turns: pumpTurns(stage),
    events: {
      perTurn: random.pick([0.25, 1 / 3, 0.5, 1]),
      slip: random.between(0.1, 0.4),
      misses: random.between(0.1, 0.6),
    },
    blow: { rings, contactSeconds: random.between(0.0003, 0.0015), spread: 0.6 },
    strength: (position) => (pumpRuns(stage, position) ? 1 : 0),
  });
  return { variant: "debris", character: "rattling", carriedHz: [300, 6000], samples };
}

function wornBush(stage: Stage): FaultSound {
  const { random, sampleCount, lineHz, motion } = stage;
  const samples = new Float64Array(sampleCount);
  const turns = pumpTurns(stage);
  addMainsComb(samples, steadyTurns(sampleCount, lineHz, random), random.between(0, 0.8), random);
  modulate(samples, turns, random.pick([0.5, 1, 1]), random.between(0.1, 0.7));
  const rough = bandNoise(sampleCount, random, 300, random.between(1500, 5e3));
  modulate(rough, turns, 1, random.between(0.3, 0.9));
  mixInto(setRms(samples, 1), rough, random.between(0.1, 0.8));
  multiplyByControl(samples, motion.pump);
  const squeals = random.chance(0.35);
  if (squeals) {
    const voice = squeal(stage, {
      hz: random.between(600, 2600),
      wander: random.between(0.01, 0.04),
      harmonics: 4,
      gate: motion.pump,
    });
    mixInto(samples, setRms(voice, 1), random.between(0.8, 1.6));
  }
  return {
    variant: squeals ? "dry bush squealing" : "worn bush",
    character: squeals ? "squealing" : "humming",
    carriedHz: [100, 4000],
    samples,
  };
}

function suckingAir(stage: Stage): FaultSound {
  const { random, sampleCount, motion } = stage;
  const samples = new Float64Array(sampleCount);
  const rate = random.between(2, 20);
  const gate = new Float64Array(controlCount(sampleCount));
  for (const place of poissonEvents(sampleCount, () => rate, rate, random)) {
    const start = Math.round(place / 240);
    const length = random.integer(5, 50);
    const strength = Math.exp(0.5 * random.normal());
    for (let k = 0; k < length && start + k < gate.length; k++) {
      gate[start + k]! += strength * Math.sin((Math.PI * k) / length);
    }
  }
  mixInto(
    samples,
    bandNoise(sampleCount, random, random.between(500, 1500), random.between(5e3, 1e4)),
  );
  multiplyByControl(
    samples,
    gate.map((value, k) => (0.05 + value) * motion.pump[k]!),
  );
  return { variant: "sucking air", character: "rattling", carriedHz: [400, 8000], samples };
}

function stalled(stage: Stage): FaultSound {
  const { random, sampleCount, lineHz, motion } = stage;
  const samples = new Float64Array(sampleCount);
  addMainsComb(samples, steadyTurns(sampleCount, lineHz, random), random.between(0.6, 1.5), random);
  const drift = slowDrift(controlCount(sampleCount), random, 100);
  multiplyByControl(
    samples,
    motion.pump.map((on, k) => on * Math.exp(0.15 * drift[k]!)),
  );
  return { variant: "blocked, hums only", character: "humming", carriedHz: [90, 1500], samples };
}

/** Drain pump: debris, worn bush, air, or blocked. */
export function drainPump(stage: Stage): FaultSound {
  const make = stage.random.pick([debris, debris, wornBush, wornBush, suckingAir, stalled]);
  return make(stage);
}

/** Recirculation pump worn or with debris, while the drum washes. */
export function recirculationPump(stage: Stage): FaultSound {
  const { random, motion } = stage;
  const start = random.chance(0.5) ? 0 : random.between(0.1, 0.4) * motion.pump.length;
  const pump = motion.pump.map((_, k) => (k >= start ? 1 : 0));
  const running: Stage = {
    ...stage,
    motion: { ...motion, pump },
    washer: { ...stage.washer, pump: random.pick(["synchronous", "electronic"]) },
  };
  const sound = random.chance(0.4) ? debris(running) : wornBush(running);
  mixInto(setRms(sound.samples, 1), setRms(pumpSound(running), 1), random.between(0.2, 0.6));
  return { ...sound, variant: `recirculation, ${sound.variant}` };
}
