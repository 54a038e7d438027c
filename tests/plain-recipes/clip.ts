import type { Truth } from "../../src/evaluation/truth.js";
import { Dice } from "./dice.js";
import { OTHER_SOUNDS } from "./other-sounds.js";
import { playPlot } from "./play.js";
import { drawPlot, normalPlot, type PlainWish, type Plot } from "./plot.js";
import { add } from "./sound.js";
import { drawPhone, drawRoom, inRoom, phoneInWords, throughPhone, type Phone } from "./space.js";
import { speedTruth } from "./speed-truth.js";

export interface PlainClip {
  samples: Float32Array;
  sampleRateHz: number;
  truth: Truth;
}

function otherClip(seed: number, seconds: number, phone: Phone, dice: Dice): PlainClip {
  const rate = phone.rateHz;
  const name = dice.pick(Object.keys(OTHER_SOUNDS));
  const sound = OTHER_SOUNDS[name]!(
    { rate, length: Math.round(seconds * rate) },
    dice.branch("other"),
  );
  const heard = inRoom(sound, rate, drawRoom(dice), dice.branch("room"));
  if (name === "silence") phone.levelDb = dice.between(-75, -55);
  const samples = throughPhone(heard, phone, dice.branch("hiss"));
  return {
    samples,
    sampleRateHz: rate,
    truth: { ...sameTruth(seed, phone), washer: false, faults: [], note: name },
  };
}

const sameTruth = (
  seed: number,
  phone: Phone,
): Pick<Truth, "schema" | "file" | "simulator" | "phone" | "codec" | "seed"> => ({
  schema: "washer-noise/truth@1",
  file: `plain-${String(seed)}.wav`,
  simulator: "plain recipes",
  phone: phoneInWords(phone),
  codec: "WAV, PCM",
  seed,
});

/** Makes one labelled recording; the same seed and wish give the same samples. */
export function drawClip(seed: number, wish: PlainWish = {}): PlainClip {
  const dice = new Dice(`plain ${String(seed)}`);
  const seconds = wish.seconds ?? 15;
  if (!(seconds >= 8 && seconds <= 40))
    throw new RangeError(`seconds must be 8 to 40; received ${String(seconds)}.`);
  const phone = drawPhone(dice.branch("phone"));
  const roll = dice.next();
  const others = wish.notWasherShare ?? 0.05;
  if (wish.fault === undefined && roll < others)
    return otherClip(seed, seconds, phone, dice.branch("other"));
  const normal =
    wish.fault === null || (wish.fault === undefined && roll < others + (wish.normalShare ?? 0.2));
  const plot = normal ? normalPlot(wish, dice.branch("plot")) : drawPlot(wish, dice.branch("plot"));
  return washerClip({ seed, seconds, phone, plot }, dice);
}

interface Order {
  seed: number;
  seconds: number;
  phone: Phone;
  plot: Plot;
}

function washerClip({ seed, seconds, phone, plot }: Order, dice: Dice): PlainClip {
  const stems = playPlot(plot, seconds, phone.rateHz, dice);
  const { course, machine, rate } = stems.scene;
  const db = stems.faultToBackgroundDb;
  const mix = stems.fault === null ? stems.background : add(stems.background, stems.fault);
  const room = drawRoom(dice.branch("room"));
  const heard = inRoom(mix, rate, room, dice.branch("echo"));
  const truth: Truth = {
    ...sameTruth(seed, phone),
    washer: true,
    machine: plot.profile.id,
    phase: plot.phase,
    faults: plot.recipe === null ? [] : [plot.recipe.component],
    character: plot.recipe?.character ?? "none",
    drumRpm: speedTruth(course, rate),
    motorToDrum: Math.round(machine.motorToDrum * 1000) / 1000,
    lineHz: machine.lineHz,
    ...(db === null ? {} : { faultToBackgroundDb: Math.round(db * 10) / 10 }),
    note: `${plot.recipe?.name ?? "in order"}; ${course.kind}; RT60 ${room.rt60Seconds.toFixed(2)} s`,
  };
  const samples = throughPhone(heard, phone, dice.branch("hiss"));
  return { samples, sampleRateHz: rate, truth };
}
