import type { Random } from "../foundation/random.js";
import type { Component } from "../machine/words.js";
import { machineInOrder } from "./background/machine-in-order.js";
import { drawPath, sendAlong } from "./channel/path.js";
import { hearThrough, type PhoneDraw } from "./channel/phone.js";
import { reverberate, type RoomDraw } from "./channel/room.js";
import { FAULT_SOURCES, type FaultyPart } from "./faults/fault-sources.js";
import { mixInto, rms, setRms } from "./sound/level.js";
import { whiteNoise } from "./sound/noise.js";
import type { FaultSound, PathName, Stage } from "./stage.js";

/** Band that each way out of the cabinet carries best. */
const CARRIED: Readonly<Record<PathName, readonly [number, number]>> = {
  drum: [100, 2500],
  motor: [150, 5000],
  pump: [90, 3000],
  cabinet: [60, 900],
  open: [100, 8000],
};

/** Fault and background apart, as they reach the phone after its linear part. Shapes [n]. */
export interface Stems {
  readonly fault: Float64Array;
  readonly background: Float64Array;
  readonly faultSounds: readonly FaultSound[];
}

/** Where the clip is heard. */
export interface Place {
  readonly room: RoomDraw;
  readonly phone: PhoneDraw;
}

function backgroundAtDoor(stage: Stage): Float64Array {
  const out = new Float64Array(stage.sampleCount);
  const byPath = new Map<PathName, Float64Array>();
  for (const { path, levelDb, samples } of machineInOrder(stage)) {
    setRms(samples, 10 ** (levelDb / 20));
    const sum = byPath.get(path);
    if (sum) mixInto(sum, samples);
    else byPath.set(path, samples);
  }
  for (const [name, samples] of byPath) {
    sendAlong(drawPath(stage.random.fork(`path ${name}`), CARRIED[name]), samples, out);
  }
  return out;
}

function faultsAtDoor(stage: Stage, faults: readonly Component[]): [Float64Array, FaultSound[]] {
  const out = new Float64Array(stage.sampleCount);
  const sounds: FaultSound[] = [];
  faults.forEach((fault, i) => {
    const random: Random = stage.random.fork(`fault ${fault}`);
    const sound = FAULT_SOURCES[fault as FaultyPart]({ ...stage, random });
    const arrived = new Float64Array(stage.sampleCount);
    sendAlong(drawPath(random.fork("path"), sound.carriedHz), sound.samples, arrived);
    mixInto(out, setRms(arrived, i === 0 ? 1 : 10 ** (random.between(-6, 0) / 20)));
    sounds.push(sound);
  });
  return [out, sounds];
}

// The microphone's own noise, far below the machine.
function addSelfNoise(background: Float64Array, random: Random): void {
  const level = rms(background) * 10 ** (random.between(-62, -34) / 20);
  mixInto(background, whiteNoise(background.length, random), level);
}

/** Makes both halves of a clip and takes them through the room and the phone's linear part. */
export function makeStems(stage: Stage, faults: readonly Component[], place: Place): Stems {
  const background = backgroundAtDoor({ ...stage, random: stage.random.fork("background") });
  const [fault, faultSounds] = faultsAtDoor(stage, faults);
  reverberate(background, fault, place.room, stage.random.fork("room"));
  addSelfNoise(background, stage.random.fork("self-noise"));
  hearThrough(place.phone, background);
  hearThrough(place.phone, fault);
  return { fault, background, faultSounds };
}
