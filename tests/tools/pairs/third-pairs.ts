import { Dice } from "../../plain-recipes/dice.js";
import { playPlot } from "../../plain-recipes/play.js";
import { drawPlot } from "../../plain-recipes/plot.js";
import { add, type Signal } from "../../plain-recipes/sound.js";
import { drawPhone, drawRoom, inRoom, throughPhone } from "../../plain-recipes/space.js";
import { plannedRecordings, type PairRecording, type PairSet } from "./pair-set.js";

const SECONDS = 15;
const RATE_HZ = 48_000;

function recordedAt(sound: Signal, place: Dice): PairRecording {
  const drawn = drawPhone(place.branch("phone"));
  const heard = inRoom(sound, RATE_HZ, drawRoom(place.branch("room")), place.branch("echo"));
  const phone = { ...drawn, rateHz: RATE_HZ };
  return { samples: throughPhone(heard, phone, place.branch("hiss")), sampleRateHz: RATE_HZ };
}

/**
 * Washers of the plain recipes. The two moments are the halves of 30 s, so that only courses of steady speed
 * are matched pairs; others are drawn again.
 */
export function* thirdPairs(seed: number, count: number): Generator<PairSet> {
  for (let index = 0, made = 0; made < count; index++) {
    const dice = new Dice(`pairs ${seed} ${index}`);
    const plot = drawPlot({}, dice.branch("plot"));
    const { scene, fault, background } = playPlot(plot, 2 * SECONDS, RATE_HZ, dice);
    if (fault === null || (plot.phase === "spin" && scene.course.kind !== "plateau")) continue;
    const half = SECONDS * RATE_HZ;
    const recordings: Record<string, PairRecording> = {};
    for (const { name, moment, faultDb } of plannedRecordings(
      dice.branch("jitter").between(-1, 1),
    )) {
      const cut = (sound: Signal): Signal => sound.slice(moment * half, (moment + 1) * half);
      const sound = cut(background);
      if (faultDb !== null) add(sound, cut(fault), 10 ** (faultDb / 20));
      recordings[name] = recordedAt(sound, dice.branch(`place ${name}`));
    }
    made++;
    const part = plot.recipe!.component;
    yield { id: `${seed}-${index}`, phase: plot.phase, part, recordings };
  }
}
