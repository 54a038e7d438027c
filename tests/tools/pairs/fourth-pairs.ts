import { overDb } from "../../drawn-sounds/clip.js";
import {
  atLevel,
  blank,
  gainOfDb,
  lay,
  stretch,
  type Canvas,
  type Layer,
} from "../../drawn-sounds/canvas.js";
import type { Curve } from "../../drawn-sounds/curve.js";
import { Dice } from "../../drawn-sounds/dice.js";
import { FAULTS } from "../../drawn-sounds/fault-table.js";
import { voicesInOrder } from "../../drawn-sounds/machine-in-order.js";
import { drawMachine, machinesWith } from "../../drawn-sounds/machine.js";
import { floorColour, paintNoise } from "../../drawn-sounds/painted-noise.js";
import { drawPhone, record, type Phone } from "../../drawn-sounds/phone.js";
import { throughRoom } from "../../drawn-sounds/room.js";
import { drawScene } from "../../drawn-sounds/scene.js";
import type { Phase } from "../../../src/machine/words.js";
import { plannedRecordings, type PairDraw, type PairRecording, type PairSet } from "./pair-set.js";

const RATE_HZ = 48_000;
/** In these the second half of a recording is at another speed than the first. */
const RUNS_DOWN: ReadonlySet<string> = new Set(["coast", "hand-spin"]);
const SAME_SPEED = 0.02;
/** A part is heard in both halves when they differ by no more, dB. */
const MOST_UNEVEN_DB = 6;

/** Independent chance by name, so that one draw more changes no other. */
function diceOf(words: string): Dice {
  let hash = 0x811c9dc5;
  for (const letter of words) hash = Math.imul(hash ^ letter.charCodeAt(0), 0x01000193);
  return new Dice(hash >>> 0);
}

const half = (sound: Layer, moment: 0 | 1): Layer =>
  sound.slice((moment * sound.length) / 2, ((moment + 1) * sound.length) / 2);

const power = (sound: Layer): number =>
  sound.reduce((sum, value) => sum + value * value, 0) / sound.length;

function meanOf(course: Curve, moment: 0 | 1): number {
  const size = Math.floor(course.length / 2);
  const part = course.subarray(moment * size, (moment + 1) * size);
  return part.reduce((sum, value) => sum + value, 0) / size;
}

/** Both halves at one speed; in the wash the drum comes and goes, and its halves are as good as each other. */
function steady(phase: Phase, drumRpm: Curve): boolean {
  if (phase !== "spin") return true;
  const [was, is] = [meanOf(drumRpm, 0), meanOf(drumRpm, 1)];
  const spread = drumRpm.every((rpm) => Math.abs(rpm - was) <= SAME_SPEED * was);
  return was > 0 && spread && Math.abs(is - was) <= SAME_SPEED * was;
}

/** A machine in order in a room that is seldom silent. */
function restOf(scene: ReturnType<typeof drawScene>, canvas: Canvas): Layer {
  const { dice } = canvas;
  const colour = floorColour(dice, dice.ratio(60, 200), dice.between(3, 7), dice.between(1, 3));
  const floor = paintNoise(canvas, [{ colour, driftDb: 1 }]);
  const layer = lay(blank(canvas), atLevel(floor, dice.between(-38, -14), canvas.rateHz));
  for (const voice of voicesInOrder(scene)) lay(layer, voice.layer);
  return layer;
}

interface Plot extends Pick<PairSet, "machine" | "phase" | "part"> {
  readonly fault: Layer;
  readonly rest: Layer;
}

/** A washer with a fault, twice as long as a recording; null where course or fault differ between the halves. */
function drawPlot(dice: Dice, seconds: number): Plot | null {
  const fault = dice.weighted(FAULTS.map((one) => [one, one.weight] as const));
  const phases = Object.entries(fault.heard) as [Phase, number][];
  const phase = dice.weighted(phases.map(([name, chance]) => [name, chance] as const));
  const machine = drawMachine(dice, dice.one(machinesWith(fault.component)));
  if (RUNS_DOWN.has(phase)) return null;
  const canvas = stretch(RATE_HZ, 2 * seconds, dice);
  const scene = drawScene(canvas, machine, phase, fault.need);
  if (!steady(phase, scene.drumRpm)) return null;
  const sound = fault.make(scene);
  const unevenDb =
    10 * Math.log10((power(half(sound, 0)) + 1e-12) / (power(half(sound, 1)) + 1e-12));
  if (power(sound) < 1e-10 || Math.abs(unevenDb) > MOST_UNEVEN_DB) return null;
  const rest = restOf(scene, canvas);
  return { fault: sound, rest, machine: machine.id, phase, part: fault.component };
}

interface Place {
  readonly phone: Phone;
  readonly roomSeed: string;
}

function ordinaryPhone(root: string): Phone {
  for (let round = 0; ; round++) {
    const phone = drawPhone(diceOf(`${root} phone ${round}`));
    if (phone.rateHz >= 44_100) return { ...phone, gateDb: 0 };
  }
}

/** The same phone in half of the pairs, the same room in half, another place in the same kitchen in the others. */
function placeOf(root: string, name: string, draw: PairDraw): Place {
  if (draw !== "ordinary") {
    const phone = drawPhone(diceOf(`${root} ${name} phone`));
    return { phone, roomSeed: `${root} ${name} room` };
  }
  const dice = diceOf(`${root} ${name} place`);
  const samePhone = dice.chance(0.5);
  const sameRoom = dice.chance(0.5);
  const phone = ordinaryPhone(samePhone ? root : `${root} ${name}`);
  return {
    phone: { ...phone, levelDb: dice.between(-34, -13) },
    roomSeed: sameRoom ? `${root} room` : `${root} ${name} room`,
  };
}

/** Washers that are painted in time and frequency; the two moments are the halves of one sound. */
export function* fourthPairs(
  seed: number,
  count: number,
  draw: PairDraw,
  seconds: number,
): Generator<PairSet> {
  for (let index = 0, made = 0; made < count; index++) {
    const root = `pairs ${seed} ${index}`;
    const dice = diceOf(root);
    const plot = drawPlot(dice, seconds);
    if (plot === null) continue;
    const { fault, rest, ...facts } = plot;
    const levelDb = dice.between(0, 12);
    let strengthDb: number | null = null;
    const recordings: Record<string, PairRecording> = {};
    for (const { name, moment, faultDb } of plannedRecordings(dice.between(-1, 1))) {
      const { phone, roomSeed } = placeOf(root, name, draw);
      const [loud, other] = throughRoom(
        [half(fault, moment), half(rest, moment)],
        RATE_HZ,
        phone.colour,
        diceOf(roomSeed),
      );
      // As loud as drawn in the first recording; other phones and rooms hear the same strength.
      strengthDb ??= levelDb - overDb(loud, other, RATE_HZ);
      if (faultDb !== null) lay(other, loud, gainOfDb(strengthDb + faultDb));
      const samples = record(other, { ...phone, rateHz: RATE_HZ }, diceOf(`${root} ${name} file`));
      const harsh = phone.gateDb > 0 || phone.rateHz < 16_000;
      recordings[name] = { samples, sampleRateHz: RATE_HZ, harsh };
    }
    made++;
    yield { id: `${seed}-${index}`, ...facts, faultToRestDb: levelDb, recordings };
  }
}
