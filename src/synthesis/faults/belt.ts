import { controlAt, largest, mapControl, multiplyByControl } from "../sound/control.js";
import { mixInto, setRms } from "../sound/level.js";
import { bandNoise } from "../sound/noise.js";
import { addTone, harmonicTable, modulate } from "../sound/tone.js";
import type { FaultSound, Stage } from "../stage.js";
import { CLACK, DULL, TICK, addTurnBlows, drawRings } from "./knocks.js";
import { squeal } from "./squeal.js";

/** Loudness right after each start, stop and reversal, dying away over a drawn time. */
export function jerkGate(stage: Stage, holdSeconds: number, fadeSeconds: number): Float64Array {
  const { motion } = stage;
  return mapControl(motion.drumHz, (_, t) => {
    let loudest = 0;
    for (const jerk of motion.jerks) {
      const since = t - jerk;
      if (since < 0) continue;
      const open = since < holdSeconds ? 1 : Math.exp(-(since - holdSeconds) / fadeSeconds);
      loudest = Math.max(loudest, Math.min(1, since / 0.03) * open);
    }
    return loudest;
  });
}

function slippingBelt(stage: Stage): FaultSound {
  const { random, motion } = stage;
  const stroke = motion.jerks.length > 8 ? 0.15 : random.between(0.4, 3);
  const moving = motion.motorSpeedHz;
  const gate = jerkGate(stage, stroke, random.between(0.05, 0.5)).map((open, k) =>
    Math.abs(moving[k]!) > 0.05 || open > 0.5 ? open : 0,
  );
  // Under torque the belt also squeals on, more faintly.
  const torque = motion.torque.map(
    (value, k) => gate[k]! + 0.3 * Math.max(0, Math.abs(value) - 0.6),
  );
  const samples = squeal(stage, {
    hz: random.between(500, 2800),
    wander: random.between(0.01, 0.05),
    harmonics: random.integer(3, 8),
    gate: torque,
  });
  return { variant: "slipping", character: "squealing", carriedHz: [400, 7000], samples };
}

function lumpyBelt(stage: Stage): FaultSound {
  const { random, sampleCount, motion, washer } = stage;
  const samples = new Float64Array(sampleCount);
  const heavy = random.chance(0.5);
  const rings = drawRings(heavy ? DULL : CLACK, random);
  const blow = { rings, contactSeconds: heavy ? 0.004 : 0.0008, spread: 0.25 };
  const turns = motion.pulleyTurns;
  const moving = (position: number) => Math.abs(controlAt(motion.pulleyHz, position));
  const strength = (position: number) => Math.min(1, moving(position)) * moving(position) ** 0.4;
  const events = { perTurn: washer.beltToPulley * (1 - 0.5 * washer.creep) };
  addTurnBlows(stage, samples, { turns, events, blow, strength, scatterSeconds: 0.001 });
  // The lump meets the second pulley at another moment of the belt's turn, usually more softly.
  if (random.chance(0.7)) {
    const second = random.between(0.3, 0.9);
    addTurnBlows(stage, samples, {
      turns,
      events,
      blow,
      strength: (position) => second * strength(position),
      scatterSeconds: 0.001,
    });
  }
  return {
    variant: heavy ? "lump slapping" : "loose cord ticking",
    character: heavy ? "thumping" : "rattling",
    carriedHz: heavy ? [80, 1500] : [300, 5000],
    samples,
  };
}

/** Worn belt that slips and squeals, or a damaged one that strikes at its own rate. */
export function driveBelt(stage: Stage): FaultSound {
  const unpowered = stage.phase === "coast" || stage.phase === "hand-spin";
  return unpowered || stage.random.chance(0.45) ? lumpyBelt(stage) : slippingBelt(stage);
}

/** Loose or bent motor pulley: buzzes at the motor's rate, with its low harmonics raised. */
export function motorPulley(stage: Stage): FaultSound {
  const { random, sampleCount, motion } = stage;
  const samples = new Float64Array(sampleCount);
  const top = Math.max(1, largest(motion.motorSpeedHz));
  const moving = (position: number) => Math.abs(controlAt(motion.motorSpeedHz, position)) / top;
  addTurnBlows(stage, samples, {
    turns: motion.motorTurns,
    events: { perTurn: random.pick([1, 1, 2]), slip: random.between(0, 0.04), misses: 0.08 },
    blow: {
      rings: drawRings({ hz: [500, 5000], decaySeconds: [0.001, 0.006], count: 4 }, random),
      contactSeconds: 0.0005,
      spread: 0.35,
    },
    strength: (position) => moving(position),
  });
  setRms(samples, 1);
  const tone = new Float64Array(sampleCount);
  const amplitudes = Array.from({ length: 6 }, () => random.between(0.2, 1));
  addTone(tone, motion.motorTurns, 1, harmonicTable(amplitudes, random));
  multiplyByControl(
    tone,
    mapControl(motion.motorSpeedHz, (hz) => Math.abs(hz) / top),
  );
  mixInto(samples, setRms(tone, 1), random.between(0.3, 1));
  modulate(samples, motion.pulleyTurns, stage.washer.beltToPulley, random.between(0, 0.4));
  return { variant: "loose on its shaft", character: "rattling", carriedHz: [100, 5000], samples };
}

/** Loose or untrue large pulley: a click each turn, or a rub that comes and goes with it. */
export function drumPulley(stage: Stage): FaultSound {
  const { random, sampleCount, motion, washer } = stage;
  const samples = new Float64Array(sampleCount);
  const moving = (position: number) => Math.abs(controlAt(motion.pulleyHz, position));
  const rubs = random.chance(0.4);
  if (rubs) {
    const rub = bandNoise(sampleCount, random, random.between(300, 900), random.between(2500, 6e3));
    const share = random.between(0.5, 0.95);
    modulate(rub, motion.pulleyTurns, 1, share, random.between(0, 6));
    modulate(rub, motion.pulleyTurns, washer.spokes, random.between(0, 0.3));
    multiplyByControl(
      rub,
      mapControl(motion.pulleyHz, (hz) => Math.abs(hz) ** 0.8),
    );
    mixInto(samples, setRms(rub, 1));
  }
  const clicks = new Float64Array(sampleCount);
  addTurnBlows(stage, clicks, {
    turns: motion.pulleyTurns,
    events: { perTurn: 1, misses: 0.03 },
    blow: {
      rings: drawRings({ hz: [200, 3200], decaySeconds: [0.004, 0.02], count: 4 }, random),
      contactSeconds: random.between(0.0008, 0.003),
      spread: 0.25,
    },
    strength: (position) => Math.min(1, 2 * moving(position)) * moving(position) ** 0.3,
    scatterSeconds: 0.0015,
  });
  mixInto(samples, setRms(clicks, 1), rubs ? 0.3 : 1);
  return {
    variant: rubs ? "wobbles and rubs" : "clicks each turn",
    character: rubs ? "grinding" : "thumping",
    carriedHz: [150, 4000],
    samples,
  };
}

/** Worn brushes or a burnt commutator: crackling at the motor's rate, bars standing out. */
export function motorBrushes(stage: Stage): FaultSound {
  const { random, sampleCount, motion, washer, lineHz } = stage;
  const samples = new Float64Array(sampleCount);
  const top = Math.max(1, largest(motion.motorSpeedHz));
  const powered = (position: number) => controlAt(motion.powered, position);
  const perTurn = random.pick([1, 2]);
  addTurnBlows(stage, samples, {
    turns: motion.motorTurns,
    events: { perTurn, slip: 0.15, misses: random.between(0.3, 0.7) },
    blow: { rings: drawRings(TICK, random), contactSeconds: 0.0001, spread: 0.7 },
    strength: (position) => 0.2 + 0.8 * powered(position),
  });
  const hiss = bandNoise(sampleCount, random, 2500, 14_000);
  modulate(hiss, motion.motorTurns, washer.bars, random.between(0.2, 0.9));
  modulate(hiss, motion.motorTurns, 1, random.between(0.2, 0.8));
  const mains = Float64Array.from({ length: sampleCount }, (_, i) => (i * lineHz) / 48_000);
  modulate(hiss, mains, 2, random.between(0, 0.7));
  multiplyByControl(
    hiss,
    mapControl(motion.motorSpeedHz, (hz) => Math.abs(hz) / top),
  );
  multiplyByControl(hiss, motion.powered);
  mixInto(setRms(samples, 1), setRms(hiss, 1), random.between(0.3, 1));
  return { variant: "crackling", character: "rattling", carriedHz: [1500, 12_000], samples };
}
