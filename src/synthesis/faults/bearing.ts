import { growth, multiplyByControl } from "../sound/control.js";
import { eventsAtTurns } from "../sound/events.js";
import { mixInto, setRms } from "../sound/level.js";
import { bandNoise, slowDrift, whiteNoise } from "../sound/noise.js";
import { applyBiquad, lowPass } from "../sound/filters.js";
import { controlCount } from "../sound/rate.js";
import { addRings, type Ring } from "../sound/strike.js";
import { modulate } from "../sound/tone.js";
import type { Random } from "../../foundation/random.js";
import type { FaultSound, Stage } from "../stage.js";
import { bearingOrders, type DrawnBearing } from "../washer/drawn-washer.js";

/** The shaft a bearing sits on: its turns (per sample) and speed (per control step). */
interface Shaft {
  readonly turns: Float64Array;
  readonly hz: Float64Array;
  /** Speed at which its sounds have unit level, turns per second. */
  readonly referenceHz: number;
}

const drumShaft = ({ motion }: Stage): Shaft => ({
  turns: motion.drumTurns,
  hz: motion.drumHz,
  referenceHz: 10,
});

const rings = (random: Random, lowHz: number, highHz: number): Ring[] =>
  Array.from({ length: random.integer(1, 4) }, () => {
    const hz = lowHz * (highHz / lowHz) ** random.uniform();
    const damping = random.between(0.02, 0.1);
    const decaySeconds = Math.min(0.004, Math.max(0.0005, 1 / (2 * Math.PI * hz * damping)));
    return { hz, decaySeconds, gain: random.between(0.3, 1) };
  });

/** One damaged spot: where it sits decides its rate and what modulates it. */
interface Spot {
  readonly name: "outer race" | "inner race" | "ball";
  readonly perTurn: number;
  readonly modulationOrder: number;
  readonly depth: number;
}

// Under a load that turns with the drum (unbalance) it is the standing race whose spot sees the load
// come and go; under a standing load it is the turning race.
function drawSpot(bearing: DrawnBearing, random: Random): Spot {
  const rates = bearingOrders(bearing);
  const slid = 1 + bearing.slide;
  const turningLoad = random.chance(0.5);
  const strong = random.between(0.4, 1);
  const weak = random.between(0, 0.2);
  return random.pick<Spot>([
    {
      name: "outer race",
      perTurn: slid * rates.outer,
      modulationOrder: 1,
      depth: turningLoad ? strong : weak,
    },
    {
      name: "inner race",
      perTurn: slid * rates.inner,
      modulationOrder: 1,
      depth: turningLoad ? weak : strong,
    },
    {
      name: "ball",
      perTurn: slid * rates.ball,
      modulationOrder: slid * rates.cage,
      depth: strong,
    },
  ]);
}

function spotKnocks(stage: Stage, shaft: Shaft, spot: Spot, lowHz: number): Float64Array {
  const { random, sampleCount } = stage;
  const out = new Float64Array(sampleCount);
  const slip = random.between(0.005, 0.02);
  const modes = rings(random, lowHz, 9000);
  const phase = random.between(0, 2 * Math.PI);
  const events = eventsAtTurns(shaft.turns, { perTurn: spot.perTurn, slip }, random);
  for (const position of events) {
    const turn = shaft.turns[Math.floor(position)]!;
    const load = 1 + spot.depth * Math.cos(2 * Math.PI * spot.modulationOrder * turn + phase);
    addRings(out, position, load * Math.exp(0.3 * random.normal()), modes);
  }
  multiplyByControl(out, growth(shaft.hz, shaft.referenceHz, random.between(1, 2)));
  return setRms(out, 1);
}

/** How far worn: how deep the sound rises and falls with the turn, how rough and how high it is. */
interface Wear {
  readonly band: readonly [lowHz: number, highHz: number];
  readonly turnDepth: number;
  readonly cageDepth: number;
  readonly roughness: number;
}

const drawWear = (late: boolean, random: Random): Wear => ({
  band: late
    ? [random.between(200, 600), random.between(2500, 6000)]
    : [random.between(500, 1000), random.between(4000, 8000)],
  turnDepth: late ? random.between(0.3, 0.85) : random.between(0.05, 0.4),
  cageDepth: late ? random.between(0.1, 0.5) : random.between(0, 0.2),
  roughness: late ? random.between(0.5, 1.5) : random.between(0, 0.25),
});

// Pitted races without a repeating spot: noise whose strength is itself a low-passed noise.
function wornRaces(stage: Stage, shaft: Shaft, wear: Wear, cageOrder: number): Float64Array {
  const { random, sampleCount } = stage;
  const out = bandNoise(sampleCount, random, ...wear.band);
  const rough = whiteNoise(sampleCount, random);
  applyBiquad(rough, lowPass(random.between(40, 150)));
  setRms(rough, 1);
  for (let i = 0; i < sampleCount; i++) out[i]! *= 1 + wear.roughness * (Math.abs(rough[i]!) - 0.4);
  const sharpness = random.between(1, 3);
  modulateSharply(out, shaft.turns, wear.turnDepth, sharpness);
  modulate(out, shaft.turns, cageOrder, wear.cageDepth, random.between(0, 6));
  multiplyByControl(out, growth(shaft.hz, shaft.referenceHz, random.between(1.5, 3)));
  const drift = slowDrift(controlCount(sampleCount), random, random.between(40, 300));
  multiplyByControl(
    out,
    drift.map((value) => 10 ** ((1.5 * value) / 20)),
  );
  return setRms(out, 1);
}

// A load zone is narrower than half a turn: the cosine is raised to a power.
function modulateSharply(
  samples: Float64Array,
  turns: Float64Array,
  depth: number,
  sharpness: number,
): void {
  for (let i = 0; i < samples.length; i++) {
    const lobe = (0.5 + 0.5 * Math.cos(2 * Math.PI * turns[i]!)) ** sharpness;
    samples[i]! *= 1 - depth + 2 * depth * lobe;
  }
}

/** Drum (tub) bearing: worn races in most cases, a spot that knocks in the others. */
export function drumBearing(stage: Stage): FaultSound {
  const { random, washer, phase } = stage;
  const shaft = drumShaft(stage);
  // Drawn in every phase, so that one washer has one form of the fault whatever it is doing.
  const far = random.chance(0.6);
  const late = far || phase === "wash" || phase === "hand-spin";
  const spot = random.chance(0.35) ? drawSpot(washer.drumBearing, random) : null;
  const cageOrder = bearingOrders(washer.drumBearing).cage;
  const samples = wornRaces(stage, shaft, drawWear(late, random), cageOrder);
  if (!spot) {
    return {
      variant: `worn races, ${late ? "late" : "early"}`,
      character: late ? "grinding" : "whirring",
      carriedHz: [200, 5000],
      samples,
    };
  }
  mixInto(samples, spotKnocks(stage, shaft, spot, 800), random.between(1, 2.5));
  return { variant: `${spot.name} spot`, character: "grinding", carriedHz: [400, 6000], samples };
}

/** Motor bearing: the same faults R times faster, so that their rates are tones. */
export function motorBearing(stage: Stage): FaultSound {
  const { random, washer, motion, sampleCount } = stage;
  const fast = washer.build.axis === "horizontal";
  const shaft: Shaft = {
    turns: motion.motorTurns,
    hz: motion.motorSpeedHz,
    referenceHz: fast ? 100 : 25,
  };
  const spot = drawSpot(washer.motorBearing, random);
  const samples = spotKnocks(stage, shaft, spot, fast ? 1200 : 900);
  const hiss = bandNoise(sampleCount, random, 2000, random.between(6e3, 1e4));
  modulate(hiss, shaft.turns, 1, random.between(0, 0.5));
  multiplyByControl(hiss, growth(shaft.hz, shaft.referenceHz, random.between(1, 2.2)));
  mixInto(samples, setRms(hiss, 1), random.between(0.2, 1.2));
  const screech = fast && random.chance(0.3);
  if (screech) mixInto(samples, screechOf(stage, shaft, spot), random.between(1, 2));
  return {
    variant: `${spot.name} spot${screech ? ", screeching" : ""}`,
    character: screech ? "squealing" : "whirring",
    carriedHz: [500, 8000],
    samples,
  };
}

// A dry cage shrieks on a multiple of the shaft, and follows it.
function screechOf(stage: Stage, shaft: Shaft, spot: Spot): Float64Array {
  const { random, sampleCount } = stage;
  const out = new Float64Array(sampleCount);
  const order = spot.perTurn * random.pick([1, 2, 3]);
  for (const [multiple, gain] of [
    [1, 1],
    [2, random.between(0.1, 0.6)],
    [3, random.between(0.05, 0.4)],
  ] as const) {
    for (let i = 0; i < sampleCount; i++) {
      out[i]! += gain * Math.sin(2 * Math.PI * multiple * order * shaft.turns[i]!);
    }
  }
  const drift = slowDrift(controlCount(sampleCount), random, random.between(30, 120));
  multiplyByControl(out, growth(shaft.hz, shaft.referenceHz, 1));
  multiplyByControl(
    out,
    drift.map((value) => Math.exp(0.5 * value)),
  );
  return setRms(out, 1);
}
