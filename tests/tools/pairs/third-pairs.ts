import { Dice } from "../../plain-recipes/dice.js";
import { playPlot } from "../../plain-recipes/play.js";
import { drawPlot } from "../../plain-recipes/plot.js";
import { add, type Signal } from "../../plain-recipes/sound.js";
import {
  drawPhone,
  drawRoom,
  inRoom,
  throughPhone,
  type Phone,
  type Room,
} from "../../plain-recipes/space.js";
import { plannedRecordings, type PairDraw, type PairRecording, type PairSet } from "./pair-set.js";

/** The second half of such a recording is at another speed than the first. */
const RUNS_DOWN: ReadonlySet<string> = new Set(["coast", "hand-spin"]);
const RATE_HZ = 48_000;

/** A phone in a room. */
interface Place {
  readonly phone: Phone;
  readonly room: Room;
  readonly dice: Dice;
}

function freePlace(washer: Dice, name: string): Place {
  const dice = washer.branch(`place ${name}`);
  return { phone: drawPhone(dice.branch("phone")), room: drawRoom(dice.branch("room")), dice };
}

/** The same phone in half of the pairs, the same room in half, a step to the side in all. */
function ordinaryPlace(washer: Dice, name: string): Place {
  const person = washer.branch("person");
  const dice = washer.branch(`place ${name}`);
  const owner = dice.branch("whose").chance(0.5) ? person : dice;
  const phone = drawPhone(owner.branch("phone"));
  const room = drawRoom(person.branch("room"));
  const rt60 = dice.branch("where").chance(0.5) ? 1 : dice.branch("size").between(0.8, 1.25);
  return {
    phone: {
      ...phone,
      narrowHz: null,
      clips: false,
      levelDb: dice.branch("level").between(-38, -16),
    },
    room: {
      rt60Seconds: room.rt60Seconds * rt60,
      tailDb: room.tailDb + dice.branch("step").between(-2, 2),
    },
    dice,
  };
}

function recordedAt(sound: Signal, { phone, room, dice }: Place): PairRecording {
  const heard = inRoom(sound, RATE_HZ, room, dice.branch("echo"));
  const samples = throughPhone(heard, { ...phone, rateHz: RATE_HZ }, dice.branch("hiss"));
  const harsh = phone.clips || (phone.narrowHz !== null && phone.narrowHz < 4000);
  return { samples, sampleRateHz: RATE_HZ, harsh };
}

/**
 * Washers of the plain recipes. The two moments are the halves of one sound, so that only courses of steady speed
 * are matched pairs; others are drawn again.
 */
export function* thirdPairs(
  seed: number,
  count: number,
  draw: PairDraw,
  seconds: number,
): Generator<PairSet> {
  for (let index = 0, made = 0; made < count; index++) {
    const dice = new Dice(`pairs ${seed} ${index}`);
    const plot = drawPlot({}, dice.branch("plot"));
    if (RUNS_DOWN.has(plot.phase)) continue;
    const { scene, fault, background, faultToBackgroundDb } = playPlot(
      plot,
      2 * seconds,
      RATE_HZ,
      dice,
    );
    const steady = plot.phase !== "spin" || scene.course.kind === "plateau";
    if (fault === null || !steady) continue;
    const half = seconds * RATE_HZ;
    const recordings: Record<string, PairRecording> = {};
    for (const { name, moment, faultDb } of plannedRecordings(
      dice.branch("jitter").between(-1, 1),
    )) {
      const cut = (sound: Signal): Signal => sound.slice(moment * half, (moment + 1) * half);
      const sound = cut(background);
      if (faultDb !== null) add(sound, cut(fault), 10 ** (faultDb / 20));
      const place = draw === "ordinary" ? ordinaryPlace(dice, name) : freePlace(dice, name);
      recordings[name] = recordedAt(sound, place);
    }
    made++;
    const part = plot.recipe!.component;
    const { phase } = plot;
    const id = `${seed}-${index}`;
    const machine = plot.profile.id;
    yield { id, machine, phase, part, faultToRestDb: faultToBackgroundDb, recordings };
  }
}
