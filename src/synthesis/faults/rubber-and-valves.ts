import { addClick } from "../background/incidental.js";
import { addMainsComb } from "../background/hum.js";
import { mapControl, multiplyByControl } from "../sound/control.js";
import { mixInto, setRms } from "../sound/level.js";
import { bandNoise } from "../sound/noise.js";
import { CONTROL_HZ, RATE_HZ } from "../sound/rate.js";
import { addTone, harmonicTable, modulate, stack, steadyTurns } from "../sound/tone.js";
import type { FaultSound, Stage } from "../stage.js";
import { jerkGate } from "./belt.js";
import { squeakGate } from "./drum.js";
import { drawRings, strikeBlow } from "./knocks.js";
import { squeal } from "./squeal.js";

/** Door boot or seal running dry: squeaks on one side of the turn, at a pitch of its own. */
export function doorBoot(stage: Stage): FaultSound {
  const { random } = stage;
  const gate = squeakGate(stage, random.between(0.08, 0.4), random.uniform());
  const samples = squeal(stage, {
    hz: random.between(300, 3000),
    wander: random.between(0.01, 0.06),
    harmonics: random.integer(2, 7),
    gate,
  });
  return { variant: "dry squeak", character: "squealing", carriedHz: [300, 6000], samples };
}

/** Brake or friction clutch of an old top loader: squeal or groan while it speeds up or slows. */
export function spinBrake(stage: Stage): FaultSound {
  const { random, motion, phase } = stage;
  const groan = random.chance(0.35);
  const gate =
    phase === "coast"
      ? mapControl(motion.drumHz, (hz) => (hz > 0.1 ? Math.min(1, 0.35 + hz / 12) : 0))
      : jerkGate(stage, random.between(1, 4), random.between(0.3, 1));
  const samples = squeal(stage, {
    hz: groan ? random.between(150, 450) : random.between(500, 2800),
    wander: random.between(0.01, 0.06),
    harmonics: groan ? 8 : random.integer(2, 6),
    gate,
  });
  return {
    variant: groan ? "groans" : "squeals",
    character: "squealing",
    carriedHz: [150, 6000],
    samples,
  };
}

/** Inlet valve: loud hum, buzz of a loose core, or a bang in the pipe when it shuts. */
export function inletValve(stage: Stage): FaultSound {
  const { random, sampleCount, lineHz } = stage;
  const samples = new Float64Array(sampleCount);
  if (random.chance(0.25)) return waterHammer(stage, samples);
  const turns = steadyTurns(sampleCount, lineHz, random);
  addMainsComb(samples, turns, random.between(0.1, 1), random);
  if (random.chance(0.5)) {
    const rattle = bandNoise(sampleCount, random, 500, random.between(2500, 6e3));
    modulate(rattle, turns, 2, random.between(0.7, 1));
    mixInto(setRms(samples, 1), setRms(rattle, 1), random.between(0.1, 0.6));
  }
  return { variant: "loud hum", character: "humming", carriedHz: [90, 3000], samples };
}

function waterHammer(stage: Stage, samples: Float64Array): FaultSound {
  const { random, sampleCount } = stage;
  const count = random.integer(1, 4);
  const rings = drawRings({ hz: [40, 400], decaySeconds: [0.03, 0.15], count: 5 }, random);
  for (let i = 0; i < count; i++) {
    const position = ((i + random.between(0.2, 0.9)) / count) * sampleCount;
    strikeBlow(samples, position, 1, { rings, contactSeconds: 0.002, spread: 0.3 }, random);
  }
  return { variant: "water hammer", character: "thumping", carriedHz: [50, 600], samples };
}

function chatteringRelay(stage: Stage): FaultSound {
  const { random, sampleCount } = stage;
  const samples = new Float64Array(sampleCount);
  const rate = random.between(1, 10);
  const bursts = random.chance(0.5);
  let t = random.between(0, 0.5);
  while (t * RATE_HZ < sampleCount) {
    addClick(samples, t * RATE_HZ, Math.exp(0.3 * random.normal()), random);
    t += (1 / rate) * Math.exp(0.35 * random.normal());
    if (bursts && random.chance(0.1)) t += random.between(0.5, 2);
  }
  return { variant: "relay chatter", character: "rattling", carriedHz: [1000, 9000], samples };
}

function driveWhine(stage: Stage): FaultSound {
  const { random, sampleCount, motion, phase } = stage;
  const samples = new Float64Array(sampleCount);
  const hz = random.between(4000, 12_000);
  const table = harmonicTable(stack(1, 1, random), random);
  addTone(samples, steadyTurns(sampleCount, hz, random), 1, table);
  const rate = random.between(40, 160);
  modulate(samples, steadyTurns(sampleCount, rate, random), 1, random.between(0.1, 0.6));
  const period = random.between(2, 8);
  const runs = phase === "spin" || phase === "wash";
  multiplyByControl(
    samples,
    motion.powered.map((on, k) =>
      runs ? 0.1 + 0.9 * on : (k / CONTROL_HZ) % period < 0.7 * period ? 1 : 0.1,
    ),
  );
  return { variant: "drive whine", character: "whirring", carriedHz: [3000, 14_000], samples };
}

/** Control: a relay that chatters, or a drive that whines at its carrier. */
export const controls = (stage: Stage): FaultSound =>
  stage.random.chance(0.65) ? chatteringRelay(stage) : driveWhine(stage);
