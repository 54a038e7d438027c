import { bump, mapControl, multiplyByControl } from "../sound/control.js";
import { mixInto, setRms } from "../sound/level.js";
import { bandNoise } from "../sound/noise.js";
import type { FaultSound, Stage } from "../stage.js";
import {
  CLACK,
  DULL,
  HEAVY,
  PING,
  addJerkBlows,
  addTurnBlows,
  drawRings,
  drumSpeed,
} from "./knocks.js";

/** Noise let through during a share of each turn only: something that touches on one side. */
export function sidedScrape(stage: Stage, share: number, band: readonly [number, number]) {
  const { random, sampleCount, motion } = stage;
  const scrape = bandNoise(sampleCount, random, ...band);
  const offset = random.uniform();
  const width = Math.PI * share;
  for (let i = 0; i < sampleCount; i++) {
    const turn = motion.drumTurns[i]! + offset;
    const angle = 2 * Math.PI * (turn - Math.round(turn));
    scrape[i]! *= Math.abs(angle) >= width ? 0.03 : 0.5 + 0.5 * Math.cos((Math.PI * angle) / width);
  }
  return scrape;
}

/** Cracked or loose spider: one or two uneven blows a turn, scraping on one side when fast. */
export function drumSpider(stage: Stage): FaultSound {
  const { random, sampleCount, motion } = stage;
  const samples = new Float64Array(sampleCount);
  const blow = {
    rings: drawRings(HEAVY, random),
    contactSeconds: random.between(0.002, 0.008),
    spread: 0.25,
  };
  const exponent = random.between(0.2, 0.8);
  const turns = motion.drumTurns;
  const strength = (position: number) => drumSpeed(stage, position) ** exponent;
  const scatterSeconds = random.between(0.001, 0.006);
  addTurnBlows(stage, samples, { turns, events: { perTurn: 1 }, blow, strength, scatterSeconds });
  if (random.chance(0.4)) {
    const weaker = (position: number) => 0.5 * strength(position);
    addTurnBlows(stage, samples, { turns, events: { perTurn: 1 }, blow, strength: weaker });
  }
  setRms(samples, 1);
  const touches = random.chance(0.6);
  if (touches) {
    const scrape = sidedScrape(stage, random.between(0.1, 0.25), [1000, random.between(4e3, 7e3)]);
    multiplyByControl(
      scrape,
      mapControl(motion.drumHz, (hz) => (Math.abs(hz) / 8) ** 1.5),
    );
    mixInto(samples, setRms(scrape, 1), random.between(0.2, 0.7));
  }
  const variant = touches ? "knock with scrape" : "knock";
  return { variant, character: "thumping", carriedHz: [70, 900], samples };
}

/** Loose hub nut: clunks when the drive starts, stops or turns back, and a knock while slow. */
export function hubNut(stage: Stage): FaultSound {
  const { random, sampleCount, motion } = stage;
  const samples = new Float64Array(sampleCount);
  const blow = {
    rings: drawRings({ hz: [100, 900], decaySeconds: [0.01, 0.05], count: 5 }, random),
    contactSeconds: random.between(0.001, 0.005),
    spread: 0.3,
  };
  addJerkBlows(stage, samples, blow);
  const limit = random.between(1.2, 3);
  addTurnBlows(stage, samples, {
    turns: motion.drumTurns,
    events: { perTurn: 1, misses: 0.2 },
    blow,
    strength: (position) => 0.5 * bump(drumSpeed(stage, position), 0, limit),
    scatterSeconds: 0.015,
  });
  return { variant: "clunk at reversals", character: "thumping", carriedHz: [90, 1200], samples };
}

/** Loose or cracked counterweight: a dull knock each turn, at every speed. */
export function counterweight(stage: Stage): FaultSound {
  const { random, sampleCount, motion } = stage;
  const samples = new Float64Array(sampleCount);
  const exponent = random.between(0.1, 0.6);
  addTurnBlows(stage, samples, {
    turns: motion.drumTurns,
    events: { perTurn: 1, misses: random.between(0, 0.1) },
    blow: {
      rings: drawRings(DULL, random),
      contactSeconds: random.between(0.002, 0.007),
      spread: random.between(0.1, 0.35),
    },
    strength: (position) =>
      Math.min(1, drumSpeed(stage, position) / 1.2) * drumSpeed(stage, position) ** exponent,
    scatterSeconds: random.between(0.0005, 0.004),
  });
  return { variant: "knock each turn", character: "thumping", carriedHz: [70, 700], samples };
}

/** Coin, wire or button between drum and tub: pings while slow, scraping while fast. */
export function foreignObject(stage: Stage): FaultSound {
  const { random, sampleCount, motion } = stage;
  const samples = new Float64Array(sampleCount);
  const border = random.between(80, 400) / 60;
  const scratch = bandNoise(
    sampleCount,
    random,
    random.between(900, 2e3),
    random.between(5e3, 9e3),
  );
  const share = random.between(0.15, 0.9);
  const sided = sidedScrape(stage, share, [1200, random.between(5e3, 9e3)]);
  mixInto(scratch, sided, random.between(0.5, 3));
  multiplyByControl(
    scratch,
    mapControl(motion.drumHz, (hz) => {
      const speed = Math.abs(hz);
      return (0.05 + 0.95 / (1 + (border / Math.max(0.01, speed)) ** 4)) * Math.sqrt(speed);
    }),
  );
  const pings = new Float64Array(sampleCount);
  addTurnBlows(stage, pings, {
    turns: motion.drumTurns,
    events: { perTurn: random.pick([1, 1, 2]), slip: 0.08, misses: 0.2 },
    blow: { rings: drawRings(PING, random), contactSeconds: 0.0002, spread: 0.5 },
    strength: (position) => bump(drumSpeed(stage, position), 0, 1.6 * border),
    scatterSeconds: 0.02,
  });
  mixInto(samples, scratch, 0.4);
  mixInto(samples, pings);
  const fast = motion.drumHz.reduce((sum, hz) => sum + Math.abs(hz), 0) / motion.drumHz.length;
  const scraping = fast > border;
  return {
    variant: scraping ? "scraping" : "pings",
    character: scraping ? "grinding" : "rattling",
    carriedHz: [1000, 9000],
    samples,
  };
}

/** Loose lifter or basket screw: clacks a few times a turn while the drum is slow. */
export function drumLifter(stage: Stage): FaultSound {
  const { random, sampleCount, motion, washer } = stage;
  const samples = new Float64Array(sampleCount);
  const limit = random.between(65, 110) / 60;
  addTurnBlows(stage, samples, {
    turns: motion.drumTurns,
    events: { perTurn: random.pick([1, 1, 2, washer.lifters]), slip: 0.01, misses: 0.1 },
    blow: { rings: drawRings(CLACK, random), contactSeconds: 0.0006, spread: 0.35 },
    strength: (position) => bump(drumSpeed(stage, position), 0, limit),
    scatterSeconds: 0.02,
  });
  return { variant: "clack while slow", character: "rattling", carriedHz: [400, 5000], samples };
}

/** Balance ring short of fluid or with worn balls: thumps that swell and fade as the ring slips. */
export function balanceRing(stage: Stage): FaultSound {
  const { random, sampleCount, motion, washer } = stage;
  const samples = new Float64Array(sampleCount);
  const beat = random.between(0.02, 0.12);
  const phase = random.between(0, 6);
  const centre = washer.suspensionRpm / 60;
  const swell = (position: number) => {
    const turn = motion.drumTurns[Math.floor(position)]!;
    return 0.5 + 0.5 * Math.cos(2 * Math.PI * beat * turn + phase);
  };
  addTurnBlows(stage, samples, {
    turns: motion.drumTurns,
    events: { perTurn: 1, slip: 0.01 },
    blow: {
      rings: drawRings({ hz: [90, 420], decaySeconds: [0.02, 0.06], count: 4 }, random),
      contactSeconds: random.between(0.006, 0.02),
      spread: 0.2,
    },
    strength: (position) =>
      swell(position) * (0.25 + bump(drumSpeed(stage, position), centre, 0.8 * centre)),
  });
  const balls = random.chance(0.4);
  if (balls) {
    const blow = { rings: drawRings(CLACK, random), contactSeconds: 0.0004, spread: 0.6 };
    addTurnBlows(stage, samples, {
      turns: motion.drumTurns,
      events: { perTurn: random.between(2, 6), slip: 0.5 },
      blow,
      strength: (position) => 0.35 * bump(drumSpeed(stage, position), 0, 0.9 * centre),
    });
  }
  return {
    variant: balls ? "balls clacking" : "fluid lost",
    character: "thumping",
    carriedHz: [80, 900],
    samples,
  };
}

/** Door boot or tub seal running dry: a squeak of fixed pitch on one side of the turn. */
export const squeakGate = (stage: Stage, share: number, offset: number): Float64Array => {
  const { motion } = stage;
  return motion.drumHz.map((hz, k) => {
    const turn = motion.drumTurns[Math.min(motion.sampleCount - 1, k * 240)]! + offset;
    const place = turn - Math.floor(turn);
    const side = place < share ? Math.sin((Math.PI * place) / share) : 0;
    return side * bump(Math.abs(hz), 0.8, 1.2) * Math.min(1, Math.abs(hz) * 4);
  });
};
