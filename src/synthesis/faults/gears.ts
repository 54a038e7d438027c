import { controlAt, largest, mapControl, multiplyByControl } from "../sound/control.js";
import { eventsAtTurns } from "../sound/events.js";
import { mixInto, setRms } from "../sound/level.js";
import { bandNoise } from "../sound/noise.js";
import { CONTROL_HZ, RATE_HZ } from "../sound/rate.js";
import { integrateSpeed } from "../sound/turns.js";
import { addTone, harmonicTable, modulate, steadyTurns } from "../sound/tone.js";
import { addClick } from "../background/incidental.js";
import type { FaultSound, Stage } from "../stage.js";
import { CLACK, addJerkBlows, addTurnBlows, drawRings, strikeBlow } from "./knocks.js";

// Shaft on which the mesh is counted, with the strength of the stroke.
function meshShaft({ washer, motion }: Stage): { turns: Float64Array; hz: Float64Array } {
  return washer.build.gears === "fixed"
    ? { turns: motion.motorTurns, hz: motion.motorSpeedHz }
    : { turns: motion.agitatorTurns, hz: motion.agitatorHz };
}

/** Worn gear case: the tooth mesh chirps up and down with every stroke. */
export function gearCase(stage: Stage): FaultSound {
  const { random, sampleCount, motion, washer } = stage;
  const { turns, hz } = meshShaft(stage);
  const samples = new Float64Array(sampleCount);
  const amplitudes = Array.from(
    { length: 8 },
    (_, k) => (k + 1) ** -random.between(0.1, 1) * Math.exp(0.5 * random.normal()),
  );
  addTone(samples, turns, washer.meshPerTurn, harmonicTable(amplitudes, random));
  modulate(samples, turns, washer.planets, random.between(0.05, 0.5));
  modulate(samples, turns, 1, random.between(0.05, 0.5));
  const top = Math.max(0.1, largest(hz));
  const growl = bandNoise(sampleCount, random, 200, random.between(1200, 3500));
  modulate(growl, turns, washer.meshPerTurn, random.between(0.3, 0.9));
  mixInto(setRms(samples, 1), growl, random.between(0.2, 1));
  multiplyByControl(
    samples,
    mapControl(hz, (value) => (Math.abs(value) / top) ** 1.3),
  );
  // A gear case on a motor that never turns back is loaded twice a cycle all the same.
  if (washer.build.gears === "fixed") {
    multiplyByControl(
      samples,
      mapControl(motion.torque, (value) => 0.3 + Math.abs(value)),
    );
  }
  const chipped = random.chance(0.35);
  if (chipped) {
    const knocks = new Float64Array(sampleCount);
    addTurnBlows(stage, knocks, {
      turns,
      events: { perTurn: random.pick([1, washer.planets]) },
      blow: { rings: drawRings(CLACK, random), contactSeconds: 0.0005, spread: 0.3 },
      strength: (position) => Math.abs(controlAt(hz, position)) / top,
    });
    mixInto(setRms(samples, 1), setRms(knocks, 1), random.between(0.6, 1.5));
  }
  return {
    variant: chipped ? "chipped tooth" : "worn teeth",
    character: chipped || random.chance(0.6) ? "grinding" : "whirring",
    carriedHz: [120, 3500],
    samples,
  };
}

/** Worn agitator dogs: they slip and ratchet on every second stroke. */
export function agitatorDogs(stage: Stage): FaultSound {
  const { random, sampleCount, motion } = stage;
  const samples = new Float64Array(sampleCount);
  const blow = { rings: drawRings(CLACK, random), contactSeconds: 0.0005, spread: 0.35 };
  const top = Math.max(0.1, largest(motion.agitatorHz));
  addTurnBlows(stage, samples, {
    turns: motion.agitatorTurns,
    events: { perTurn: random.integer(6, 20), slip: random.between(0.03, 0.15), misses: 0.1 },
    blow,
    strength: (position) => Math.max(0, controlAt(motion.agitatorHz, position)) / top,
  });
  return { variant: "ratchets one way", character: "rattling", carriedHz: [500, 6000], samples };
}

/** Worn motor coupling: rattles once and three times a motor turn, clacks at reversals. */
export function motorCoupling(stage: Stage): FaultSound {
  const { random, sampleCount, motion } = stage;
  const samples = new Float64Array(sampleCount);
  const blow = {
    rings: drawRings({ hz: [200, 3200], decaySeconds: [0.002, 0.012], count: 4 }, random),
    contactSeconds: 0.001,
    spread: 0.4,
  };
  const once = random.between(0.2, 1);
  const top = Math.max(1, largest(motion.motorSpeedHz));
  const strength = (position: number) => Math.abs(controlAt(motion.motorSpeedHz, position)) / top;
  const turns = motion.motorTurns;
  addTurnBlows(stage, samples, {
    turns,
    events: { perTurn: 3, slip: random.between(0.01, 0.06), misses: 0.1 },
    blow,
    strength,
  });
  addTurnBlows(stage, samples, {
    turns,
    events: { perTurn: 1, slip: 0.01 },
    blow,
    strength: (position) => once * strength(position),
  });
  setRms(samples, 1);
  const clacks = new Float64Array(sampleCount);
  addJerkBlows(stage, clacks, { ...blow, rings: drawRings(CLACK, random) });
  mixInto(samples, setRms(clacks, 1), random.between(0.2, 0.8));
  return { variant: "dogs worn", character: "rattling", carriedHz: [150, 3500], samples };
}

/** Worn clutch splines: at the start the pulley outruns the basket; the ratchet's rate falls to 0. */
export function clutchSplines(stage: Stage): FaultSound {
  const { random, sampleCount, motion, phase } = stage;
  const samples = new Float64Array(sampleCount);
  const teeth = random.integer(8, 36);
  const blow = { rings: drawRings(CLACK, random), contactSeconds: 0.0004, spread: 0.35 };
  const strokes = phase === "wash";
  for (const jerk of strokes ? motion.jerks.filter((_, i) => i % 2 === 0) : motion.jerks) {
    const length = strokes ? random.between(0.08, 0.3) : random.between(0.4, 3);
    const startHz = strokes ? random.between(1, 3) : random.between(2, 9);
    const relative = mapControl(motion.drumHz, (_, t) => {
      const u = (t - jerk) / length;
      return u < 0 || u >= 1 ? 0 : startHz * (1 - u) ** 1.3;
    });
    const turns = integrateSpeed(relative, sampleCount);
    for (const place of eventsAtTurns(turns, { perTurn: teeth, slip: 0.06 }, random)) {
      strikeBlow(samples, place, random.between(0.6, 1), blow, random);
    }
  }
  return {
    variant: strokes ? "clatters at the stroke" : "ratchets at the start",
    character: random.chance(0.5) ? "grinding" : "rattling",
    carriedHz: [400, 5000],
    samples,
  };
}

/** Mode-shift actuator that does not find its place: click, buzz, click, again and again. */
export function shiftActuator(stage: Stage): FaultSound {
  const { random, sampleCount, motion, lineHz } = stage;
  const samples = new Float64Array(sampleCount);
  const duration = sampleCount / RATE_HZ;
  const firstMove = motion.jerks.find((t) => t > 0.3 * duration) ?? duration;
  const spacing = random.between(0.8, Math.min(4, duration / 4));
  const buzz = new Float64Array(sampleCount);
  const hum = Array.from({ length: 8 }, (_, k) => (k + 1) ** -random.between(0.3, 1));
  addTone(buzz, steadyTurns(sampleCount, 2 * lineHz, random), 1, harmonicTable(hum, random));
  const gate = new Float64Array(motion.drumHz.length);
  for (let t = random.between(0.1, 0.8); t < firstMove - 0.2; t += spacing) {
    const length = spacing * random.between(0.35, 0.75);
    addClick(samples, t * RATE_HZ, random.between(0.7, 1.2), random);
    addClick(samples, (t + length) * RATE_HZ, random.between(0.5, 1), random);
    gate.fill(1, Math.round(t * CONTROL_HZ), Math.round((t + length) * CONTROL_HZ));
  }
  multiplyByControl(setRms(buzz, 1), gate);
  mixInto(setRms(samples, 0.3), buzz, random.between(0.1, 0.5));
  return { variant: "retries", character: "rattling", carriedHz: [200, 6000], samples };
}
