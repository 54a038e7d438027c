import { bump, controlAt, mapControl, multiplyByControl } from "../sound/control.js";
import { mixInto, setRms } from "../sound/level.js";
import { bandNoise } from "../sound/noise.js";
import { addTone, harmonicTable, modulate } from "../sound/tone.js";
import type { FaultSound, Stage } from "../stage.js";
import { CLACK, HEAVY, addTurnBlows, drawRings, drumSpeed, type Blow } from "./knocks.js";

const heavyBlow = (stage: Stage, spread: number): Blow => ({
  rings: drawRings(HEAVY, stage.random),
  contactSeconds: stage.random.between(0.003, 0.012),
  spread,
});

/** Worn rods, springs or dampers: the tub strikes while the drum passes the suspension's own speed. */
export function suspension(stage: Stage): FaultSound {
  const { random, sampleCount, motion, washer } = stage;
  const samples = new Float64Array(sampleCount);
  const centre = washer.suspensionRpm / 60;
  const width = centre * random.between(0.3, 0.55);
  // The tub strikes only where its excursion exceeds the gap, so the blows have a threshold.
  const gap = random.between(0.1, 0.35);
  addTurnBlows(stage, samples, {
    turns: motion.drumTurns,
    events: { perTurn: 1, slip: 0.02, misses: 0.05 },
    blow: heavyBlow(stage, 0.3),
    strength: (position) => Math.max(0, bump(drumSpeed(stage, position), centre, width) - gap),
    scatterSeconds: 0.01,
  });
  return { variant: "tub strikes", character: "thumping", carriedHz: [60, 700], samples };
}

/** Unbalanced load: the cabinet sways once a turn, smoothly, most at the suspension's own speed. */
export function unbalancedLoad(stage: Stage): FaultSound {
  const { random, sampleCount, motion, washer } = stage;
  const centre = washer.suspensionRpm / 60;
  const samples = bandNoise(sampleCount, random, 45, random.between(200, 500));
  const depth = random.between(0.6, 0.98);
  modulate(samples, motion.drumTurns, 1, depth, random.between(0, 6));
  const panel = new Float64Array(sampleCount);
  addTone(
    panel,
    motion.drumTurns,
    1,
    harmonicTable(pulseHarmonics(random.between(0.5, 1.2)), random),
  );
  mixInto(setRms(samples, 1), setRms(panel, 1), random.between(0.3, 1));
  const tail = random.between(0.2, 0.5);
  multiplyByControl(
    samples,
    mapControl(motion.drumHz, (hz) => {
      const speed = Math.abs(hz);
      return Math.min(1, speed / centre) ** 2 * (tail + bump(speed, centre, 0.6 * centre));
    }),
  );
  return { variant: "sway once a turn", character: "thumping", carriedHz: [50, 500], samples };
}

const pulseHarmonics = (steepness: number): number[] =>
  Array.from({ length: 14 }, (_, k) => (k + 1) ** -steepness);

/** Feet not level: rocking at once, twice or every other turn, with the feet clattering. */
export function levelling(stage: Stage): FaultSound {
  const { random, sampleCount, motion } = stage;
  const samples = new Float64Array(sampleCount);
  const floorHz = random.between(7, 22);
  const strength = (position: number) => {
    const speed = drumSpeed(stage, position);
    return Math.min(1, speed / 4) * (0.4 + bump(speed, floorHz, 0.35 * floorHz));
  };
  const perTurn = random.pick([0.5, 1, 1, 2]);
  const turns = motion.drumTurns;
  addTurnBlows(stage, samples, {
    turns,
    events: { perTurn, slip: 0.015 },
    blow: heavyBlow(stage, 0.3),
    strength,
    scatterSeconds: 0.004,
  });
  addTurnBlows(stage, samples, {
    turns,
    events: { perTurn: 2, slip: 0.1, misses: 0.3 },
    blow: { rings: drawRings(CLACK, random), contactSeconds: 0.0008, spread: 0.6 },
    strength: (position) => 0.35 * strength(position),
    scatterSeconds: 0.01,
  });
  return {
    variant: perTurn === 0.5 ? "rocks every other turn" : `rocks ${perTurn} times a turn`,
    character: "thumping",
    carriedHz: [50, 900],
    samples,
  };
}

/** Shipping bolts left in: the tub is tied to the cabinet and hammers it at every speed. */
export function shippingBolts(stage: Stage): FaultSound {
  const { random, sampleCount, motion } = stage;
  const samples = new Float64Array(sampleCount);
  const growthExponent = random.between(0.8, 1.6);
  const strength = (position: number) => (drumSpeed(stage, position) / 8) ** growthExponent;
  addTurnBlows(stage, samples, {
    turns: motion.drumTurns,
    events: { perTurn: random.pick([1, 2]) },
    blow: heavyBlow(stage, 0.2),
    strength,
    scatterSeconds: 0.002,
  });
  const shake = bandNoise(sampleCount, random, 50, random.between(900, 2500));
  modulate(shake, motion.drumTurns, 1, random.between(0.4, 0.9));
  multiplyByControl(
    shake,
    mapControl(motion.drumHz, (_, t) => strength(Math.min(sampleCount - 1, t * 48_000))),
  );
  mixInto(setRms(samples, 1), setRms(shake, 1), random.between(0.4, 1));
  return { variant: "tub tied to cabinet", character: "thumping", carriedHz: [50, 1500], samples };
}

/** A loose panel: buzzes at its own pitch while a multiple of the drum's rate drives it. */
export function loosePanel(stage: Stage): FaultSound {
  const { random, sampleCount, motion, phase } = stage;
  const samples = new Float64Array(sampleCount);
  if (phase === "drain") return panelOnPump(stage, samples);
  const fastest = motion.drumHz.reduce((top, hz) => Math.max(top, Math.abs(hz)), 0);
  const centre = fastest * random.between(0.45, 1.02);
  const width = centre * random.between(0.06, 0.2);
  const multiple = random.integer(4, 16);
  const panelHz = centre * multiple;
  const buzz = drawRings({ hz: [panelHz, 5000], decaySeconds: [0.002, 0.02], count: 5 }, random);
  // Chattering is driven at a multiple of the turn but lands when the panel comes back: jittered.
  addTurnBlows(stage, samples, {
    turns: motion.drumTurns,
    events: { perTurn: multiple, slip: random.between(0.05, 0.25), misses: random.between(0, 0.2) },
    blow: { rings: buzz, contactSeconds: 0.0006, spread: 0.5 },
    strength: (position) => bump(drumSpeed(stage, position), centre, width),
  });
  return {
    variant: "buzz in a speed window",
    character: "rattling",
    carriedHz: [80, 5000],
    samples,
  };
}

function panelOnPump(stage: Stage, samples: Float64Array): FaultSound {
  const { random, sampleCount, motion, lineHz } = stage;
  const rings = drawRings({ hz: [150, 5000], decaySeconds: [0.002, 0.015], count: 5 }, random);
  const line = new Float64Array(sampleCount);
  for (let i = 0; i < sampleCount; i++) line[i] = (i * lineHz) / 48_000;
  addTurnBlows(stage, samples, {
    turns: line,
    events: { perTurn: random.pick([0.5, 1, 2]), slip: random.between(0.02, 0.15), misses: 0.1 },
    blow: { rings, contactSeconds: 0.0006, spread: 0.5 },
    strength: (position) => controlAt(motion.pump, position),
  });
  return { variant: "buzz with the pump", character: "rattling", carriedHz: [100, 5000], samples };
}
