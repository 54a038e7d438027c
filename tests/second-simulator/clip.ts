import type { Truth } from "../../src/evaluation/truth.js";
import {
  COMPONENTS,
  MACHINE_PROFILES,
  type Component,
  type MachineProfileId,
  type Phase,
} from "../../src/machine/words.js";
import { normalLayers } from "./background.js";
import { Dice } from "./dice.js";
import { runDrive, type Drive, type DriveWish } from "./drive.js";
import { SHAKING } from "./faults-shaking.js";
import { TURNING } from "./faults-turning.js";
import { WASHING } from "./faults-wash.js";
import { addTo, rmsOf } from "./filters.js";
import { addBlow } from "./loose-mass.js";
import { OTHER_SOUNDS, otherSound } from "./other-sounds.js";
import { describePhone, drawPhone, throughPhone, type Phone } from "./phone.js";
import { drawRoom, inRoom } from "./room.js";
import { frameLevels, radiate, soundingLevel, type Scene, type Variant } from "./scene.js";
import { drawWasher, type Washer } from "./washer.js";

export interface Clip {
  samples: Float32Array;
  sampleRateHz: number;
  truth: Truth;
}

export interface ClipWish {
  seed: number;
  machine?: MachineProfileId;
  phase?: Phase;
  /** A part, null for a machine in order, nothing for either. */
  fault?: Component | null;
  notWasher?: string;
  seconds?: number;
}

const FAULTS: Record<string, Variant[]> = { ...TURNING, ...SHAKING, ...WASHING };

/** Parts this simulator can break. */
export const FAULTY_COMPONENTS = COMPONENTS.filter((c) => c in FAULTS);

interface Plot {
  washer: Washer;
  phase: Phase;
  variant: Variant | null;
}

/** Draws machines until one has the wanted part and phase. */
function plotOf(wish: ClipWish, fault: Component | null, dice: Dice): Plot {
  for (let round = 0; round < 300; round++) {
    const roll = dice.part(`plot${String(round)}`);
    const washer = drawWasher(wish.machine ?? roll.pick(MACHINE_PROFILES), roll.part("washer"));
    if (fault === "recirculation-pump") washer.recirculation = true;
    if (fault === null) {
      const phase =
        wish.phase ??
        roll.pick([
          "fill",
          "wash",
          "wash",
          "drain",
          "drain",
          "spin",
          "spin",
          "spin",
          "coast",
          "hand-spin",
        ] as const);
      return { washer, phase, variant: null };
    }
    const fitting = FAULTS[fault]!.filter(
      (v) => v.fits(washer) && (!wish.phase || v.phases.includes(wish.phase)),
    );
    if (fitting.length === 0) continue;
    const variant = roll.pick(fitting);
    return { washer, phase: wish.phase ?? roll.pick(variant.phases), variant };
  }
  throw new RangeError(
    `${String(fault)} is not heard on ${wish.machine ?? "any machine"} in phase ${wish.phase ?? "any"}`,
  );
}

function driveWish(variant: Variant | null, washer: Washer, phase: Phase, dice: Dice): DriveWish {
  const shapes = variant?.shapes ?? (["plateau", "plateau", "ramp", "step", "start"] as const);
  const old =
    washer.pumpOnMotor && phase === "coast" && variant?.name !== "weak" && dice.chance(0.5);
  return {
    shape: dice.pick(shapes),
    toRest: variant ? false : dice.chance(0.3),
    braked: old,
    waitSeconds: 0,
    valvePulses: false,
    ...variant?.wish,
  };
}

/** Longest steady part of the drum's speed, or its mean while turning, rpm. */
function typicalRpm(drumHz: Float32Array, rate: number): number | null {
  const rpm: number[] = [];
  for (let i = 0; i < drumHz.length; i += Math.round(rate / 10))
    rpm.push(60 * Math.abs(drumHz[i]!));
  const turning = rpm.filter((v) => v > 4);
  if (turning.length < 5) return null;
  let best: number[] = [];
  for (let a = 0; a < rpm.length; a++) {
    let b = a;
    while (b < rpm.length && rpm[a]! > 4 && Math.abs(rpm[b]! - rpm[a]!) < 0.03 * rpm[a]!) b++;
    if (b - a > best.length) best = rpm.slice(a, b);
  }
  const list = best.length > 20 ? best : turning;
  return list.reduce((sum, v) => sum + v, 0) / list.length;
}

function speedTruth(d: Drive): Truth["drumRpm"] {
  const track = [];
  for (let t = 0; t * d.sampleRateHz < d.length; t += 0.5) {
    const hz = Math.abs(d.drumHz[Math.min(d.length - 1, Math.round(t * d.sampleRateHz))]!);
    track.push({ timeSeconds: t, rpm: hz < 0.05 ? null : Math.round(600 * hz) / 10 });
  }
  return { typical: typicalRpm(d.drumHz, d.sampleRateHz), track };
}

/** Background and fault brought to the wanted distance over the moments in which the fault sounds; false if it stays silent. */
function mixFault(s: Scene, variant: Variant, background: Float32Array, db: number): boolean {
  const fault = radiate(s, variant.layers(s));
  const rate = s.drive.sampleRateHz;
  const { rms, frames } = soundingLevel(frameLevels(fault, rate));
  if (!(rms > 0) || !Number.isFinite(rms)) return false;
  const behind = frameLevels(background, rate);
  let sum = 0;
  let count = 0;
  frames.forEach((on, k) => {
    if (on) {
      sum += behind[k]! * behind[k]!;
      count++;
    }
  });
  addTo(background, fault, (Math.sqrt(sum / count) / rms) * Math.pow(10, db / 20));
  return true;
}

/** Somebody talks, a dog barks, dishes or a clock are heard behind the machine; the hand bumps the phone. */
function addBystander(sound: Float32Array, rate: number, dice: Dice): void {
  const level = rmsOf(sound);
  if (dice.chance(0.15)) {
    const name = dice.pick(["speech", "speech", "strings", "dog", "clock", "traffic"]);
    const other = otherSound(name, { length: sound.length, rate, dice });
    addTo(sound, other, (level / rmsOf(other)) * Math.pow(10, dice.range(-24, -9) / 20));
  }
  if (!dice.chance(0.25)) return;
  const bump = new Float32Array(sound.length);
  for (let k = dice.whole(1, 4); k > 0; k--) {
    const at = dice.chance(0.5) ? dice.range(0, 0.06) : dice.range(0.92, 0.99);
    addBlow(bump, at * sound.length, level * dice.ratio(0.6, 6), dice.ratio(0.003, 0.03) * rate);
  }
  addTo(sound, bump);
}

function record(
  sound: Float32Array,
  phone: Phone,
  dice: Dice,
): { samples: Float32Array; room: string } {
  const room = drawRoom(dice.part("room"));
  const level = 1 / Math.max(1e-12, rmsOf(sound));
  for (let i = 0; i < sound.length; i++) sound[i]! *= level;
  const heard = inRoom(sound, room, phone.innerRateHz, dice.part("echo"));
  return { samples: throughPhone(heard, phone, dice.part("phone-noise")), room: room.name };
}

function makeOther(
  name: string,
  phone: Phone,
  o: { seed: number; seconds: number; dice: Dice },
): Clip {
  const sound = otherSound(name, {
    length: Math.round(o.seconds * phone.innerRateHz),
    rate: phone.innerRateHz,
    dice: o.dice.part("other"),
  });
  const { samples, room } = record(sound, phone, o.dice);
  const truth: Truth = {
    schema: "washer-noise/truth@1",
    file: `second-${String(o.seed)}.wav`,
    washer: false,
    faults: [],
    simulator: "second",
    phone: `${describePhone(phone)}, ${room}`,
    codec: phone.codec,
    seed: o.seed,
    note: name,
  };
  return { samples, sampleRateHz: phone.rateHz, truth };
}

interface Run extends Plot {
  drive: Drive;
  sound: Float32Array;
}

/** Runs machines until one lets its fault be heard: some clips end before it sounds. */
function runPlot(
  wish: ClipWish,
  o: { fault: Component | null; db: number; seconds: number; rate: number; dice: Dice },
): Run {
  for (let attempt = 0; attempt < 12; attempt++) {
    const dice = o.dice.part(`run${String(attempt)}`);
    const plot = plotOf(wish, o.fault, dice);
    const { washer, phase, variant } = plot;
    const shape = driveWish(variant, washer, phase, dice.part("shape"));
    const drive = runDrive(washer, phase, dice.part("drive"), {
      seconds: o.seconds,
      sampleRateHz: o.rate,
      ...shape,
    });
    const scene: Scene = { washer, drive, dice: dice.part("scene") };
    const sound = radiate(scene, normalLayers(scene));
    if (!variant || mixFault({ ...scene, dice: dice.part("hurt") }, variant, sound, o.db))
      return { ...plot, drive, sound };
  }
  throw new Error(`${String(o.fault)} stays silent in ${String(o.seconds)} s`);
}

/** One labelled clip. The same wish gives the same samples. */
export function makeClip(wish: ClipWish): Clip {
  const dice = new Dice(`second/${String(wish.seed)}`);
  const seconds = wish.seconds ?? 15;
  const phone = drawPhone(dice.part("phone"));
  if (wish.notWasher !== undefined)
    return makeOther(wish.notWasher, phone, { seed: wish.seed, seconds, dice });
  const drawn = dice.part("fault");
  const fault =
    wish.fault === undefined
      ? drawn.chance(0.5)
        ? null
        : drawn.pick(FAULTY_COMPONENTS)
      : wish.fault;
  if (fault !== null && !(fault in FAULTS))
    throw new RangeError(`"${fault}" is no part this simulator can break`);
  const db = Math.round(10 * dice.part("level").range(0, 12)) / 10;
  const { washer, phase, variant, drive, sound } = runPlot(wish, {
    fault,
    db,
    seconds,
    rate: phone.innerRateHz,
    dice,
  });
  addBystander(sound, phone.innerRateHz, dice.part("bystander"));
  const { samples, room } = record(sound, phone, dice);
  const truth: Truth = {
    schema: "washer-noise/truth@1",
    file: `second-${String(wish.seed)}.wav`,
    washer: true,
    machine: washer.profile,
    phase,
    faults: fault === null ? [] : [fault],
    character: variant?.character ?? "none",
    ageYears: washer.ageYears,
    drumRpm: speedTruth(drive),
    motorToDrum: washer.motorToDrum,
    lineHz: washer.lineHz,
    ...(variant ? { faultToBackgroundDb: db } : {}),
    simulator: "second",
    phone: `${describePhone(phone)}, ${room}`,
    codec: phone.codec,
    seed: wish.seed,
    ...(variant ? { note: variant.name } : {}),
  };
  return { samples, sampleRateHz: phone.rateHz, truth };
}

/** What to draw at random: shares of machines in order and of other sounds. */
export function drawWish(
  seed: number,
  o: { normalShare: number; notWasherShare: number },
): ClipWish {
  const dice = new Dice(`draw/${String(seed)}`);
  const roll = dice.unit();
  if (roll < o.notWasherShare) return { seed, notWasher: dice.pick(OTHER_SOUNDS) };
  if (roll < o.notWasherShare + o.normalShare) return { seed, fault: null };
  return { seed, fault: dice.pick(FAULTY_COMPONENTS) };
}

export function drawClip(seed: number, o: { normalShare: number; notWasherShare: number }): Clip {
  return makeClip(drawWish(seed, o));
}
