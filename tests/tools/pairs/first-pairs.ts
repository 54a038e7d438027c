import { createRandom, type Random } from "../../../src/foundation/random.js";
import {
  drawPhone,
  hearThrough,
  recordWith,
  type PhoneDraw,
} from "../../../src/synthesis/channel/phone.js";
import { drawRoom, reverberate, type RoomDraw } from "../../../src/synthesis/channel/room.js";
import { drawRequests } from "../../../src/synthesis/draw-request.js";
import { faultToBackground } from "../../../src/synthesis/fault-level.js";
import { moveWasher } from "../../../src/synthesis/motion/motion.js";
import { drawProgramme } from "../../../src/synthesis/motion/programmes.js";
import { needsOf } from "../../../src/synthesis/needs.js";
import type { ClipRequest } from "../../../src/synthesis/request.js";
import { mixInto } from "../../../src/synthesis/sound/level.js";
import { makeStems } from "../../../src/synthesis/stems.js";
import { drawWasher } from "../../../src/synthesis/washer/drawn-washer.js";
import {
  MORE_RECORDINGS,
  plannedRecordings,
  type PairDraw,
  type PairRecording,
  type PairSet,
  type PlannedRecording,
} from "./pair-set.js";

const RATE_HZ = 48_000;

/** Draws that belong to the moment; all others belong to the machine. */
const OF_THE_MOMENT = new Set(["household", "relays", "thump", "load", "sway", "snore"]);
const SEED_OF_NOISE = 0x7ffffffe;

/** The same machine at another moment: what describes it from one generator, noise and chance from the other. */
function atMoment(machine: Random, moment: Random): Random {
  return {
    uniform: machine.uniform,
    between: machine.between,
    pick: machine.pick,
    chance: machine.chance,
    integer: (low, high) =>
      high === SEED_OF_NOISE ? moment.integer(low, high) : machine.integer(low, high),
    normal: moment.normal,
    fork: (name) => {
      if (OF_THE_MOMENT.has(name)) return moment.fork(name);
      if (name.startsWith("path")) return machine.fork(name);
      return atMoment(machine.fork(name), moment.fork(name));
    },
  };
}

// Phone and room come later.
const NEUTRAL: PhoneDraw = {
  highPassOrder: 0,
  highPassHz: 20,
  bells: [],
  gainControl: null,
  noiseSuppressionDb: 0,
  levelDb: -20,
  clippingDb: null,
  sampleRateHz: RATE_HZ,
};
const DRY = { rt60Seconds: 0, directToReverberantDb: 60 };

type Stems = ReturnType<typeof makeStems>;

function stemsAt(request: ClipRequest, root: Random, moment: 0 | 1, seconds: number): Stems {
  const sampleCount = seconds * RATE_HZ;
  const { phase, faults } = request;
  const washer = drawWasher(request.machine, root.fork("washer"));
  const fresh = createRandom(request.seed + 7919 * moment).fork("take");
  const random = atMoment(root, fresh);
  const nominalHz = root.fork("line").pick([50, 60] as const);
  const lineHz = nominalHz * (1 + 0.0008 * fresh.fork("grid").normal());
  const programme = drawProgramme(phase, {
    washer,
    random: random.fork("motion"),
    sampleCount,
    needs: needsOf(faults, phase),
    drumRpm: null,
    lineHz,
  });
  const steady = washer.build.motor === "induction-mains" || moment === 0;
  const speed = steady ? 1 : 1 + fresh.fork("speed").between(-0.015, 0.015);
  const scaled = {
    ...programme,
    drumHz: programme.drumHz.map((hz) => hz * speed),
    motorHz: programme.motorHz ? programme.motorHz.map((hz) => hz * speed) : null,
  };
  const motion = moveWasher(scaled, washer, sampleCount);
  const scene = { random, motion, washer, phase, lineHz, sampleCount };
  return makeStems(scene, faults, { phone: NEUTRAL, room: DRY });
}

/** A phone in a room. */
interface Place {
  readonly phone: PhoneDraw;
  readonly room: RoomDraw;
  readonly chance: Random;
}

const withoutHarm = (phone: PhoneDraw): PhoneDraw => ({
  ...phone,
  noiseSuppressionDb: 0,
  clippingDb: null,
});

function freePlace(request: ClipRequest, name: string, draw: PairDraw): Place {
  const chance = createRandom(request.seed).fork(`place ${name}`);
  const phone = drawPhone(chance.fork("phone"));
  const room = drawRoom(chance.fork("room"));
  return { phone: draw === "free" ? phone : withoutHarm(phone), room, chance };
}

/** The same phone in half of the pairs, the same room in half, a step to the side in all. */
function ordinaryPlace(request: ClipRequest, name: string): Place {
  const person = createRandom(request.seed).fork("person");
  const chance = createRandom(request.seed).fork(`place ${name}`);
  const owner = (samePhone: boolean): Random => (samePhone ? person : chance).fork("phone");
  const phone = drawPhone(owner(chance.fork("whose").chance(0.5)));
  const room = drawRoom(person.fork("room"));
  const rt60 = chance.fork("where").chance(0.5) ? 1 : chance.fork("size").between(0.8, 1.25);
  const step = chance.fork("step").between(-2, 2);
  return {
    phone: {
      ...withoutHarm(phone),
      levelDb: chance.fork("level").between(-38, -16),
      sampleRateHz: chance.fork("rate").pick([48_000, 44_100]),
    },
    room: {
      rt60Seconds: room.rt60Seconds * rt60,
      directToReverberantDb: room.directToReverberantDb + step,
    },
    chance,
  };
}

/** Heard through a phone and a room; `gainOf` gets the fault's level there over the rest, dB. */
function recordedAt(
  stems: Stems,
  { phone, room, chance }: Place,
  gainOf: (heardDb: number) => number | null,
): PairRecording {
  const rest = stems.background.slice();
  const fault = stems.fault.slice();
  reverberate(rest, fault, room, chance.fork("tail"));
  hearThrough(phone, rest);
  hearThrough(phone, fault);
  const gainDb = gainOf(faultToBackground(fault, rest));
  if (gainDb !== null) mixInto(rest, fault, 10 ** (gainDb / 20));
  const samples = recordWith(phone, rest, chance.fork("dither"));
  const { sampleRateHz, noiseSuppressionDb, clippingDb } = phone;
  const harsh = noiseSuppressionDb > 0 || clippingDb !== null || sampleRateHz < 16_000;
  return { samples, sampleRateHz, harsh };
}

/**
 * Washers of the first simulator. The fault lies 0 to 12 dB over the rest as heard in the recording before,
 * and keeps that strength in the machine: other phones and rooms hear it 5 dB weaker to 8 dB stronger (80 %).
 */
export function* firstPairs(
  seed: number,
  count: number,
  draw: PairDraw,
  seconds: number,
): Generator<PairSet> {
  const requests = drawRequests(seed, count, { normalShare: 0, otherShare: 0 });
  for (const [index, request] of requests.entries()) {
    const root = createRandom(request.seed);
    const stems = [stemsAt(request, root, 0, seconds), stemsAt(request, root, 1, seconds)] as const;
    const levelDb = root.fork("level").between(0, 12);
    const planned: PlannedRecording[] = plannedRecordings(root.fork("jitter").normal());
    if (draw === "fitting") planned.push(...MORE_RECORDINGS);
    let strengthDb: number | null = null;
    const recordings: Record<string, PairRecording> = {};
    for (const { name, moment, faultDb } of planned) {
      const place =
        draw === "ordinary" ? ordinaryPlace(request, name) : freePlace(request, name, draw);
      recordings[name] = recordedAt(stems[moment], place, (heardDb) => {
        strengthDb ??= levelDb - heardDb;
        const silent = !Number.isFinite(strengthDb) || !Number.isFinite(heardDb);
        return faultDb === null || silent ? null : strengthDb + faultDb;
      });
    }
    const { machine, phase, faults } = request;
    const id = `${seed}-${index}`;
    yield { id, machine, phase, part: faults[0]!, faultToRestDb: levelDb, recordings };
  }
}
