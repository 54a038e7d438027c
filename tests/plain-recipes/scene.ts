import type { MachineProfile } from "../../src/machine/profile.js";
import type { Character, Component, Phase } from "../../src/machine/words.js";
import type { Course } from "./course.js";
import type { Dice } from "./dice.js";
import type { Habitat } from "./knots.js";
import type { Machine } from "./machine.js";
import { add, turnSine, wander, type Signal } from "./sound.js";

/** Everything a recipe may ask about. */
export interface Scene {
  rate: number;
  length: number;
  machine: Machine;
  phase: Phase;
  course: Course;
}

/** One way in which one part makes a noise. */
export interface Recipe {
  name: string;
  component: Component;
  character: Character;
  /** Row of the table of phases. */
  row: string;
  habitat?: Habitat;
  /** Kinds of machine that can make it; all that have the part unless told. */
  fits?: (profile: MachineProfile) => boolean;
  /** The noise alone, at any level. */
  make: (scene: Scene, dice: Dice) => Signal;
}

/** Samples between two values of a gain that changes slowly. */
const EASE_STEP = 32;

/** A slow gain, worked out now and then and joined by straight lines. */
function eased(from: Signal, law: (value: number) => number): Signal {
  const out = new Float32Array(from.length);
  let now = law(from[0] ?? 0);
  for (let k = 0; k < out.length; k += EASE_STEP) {
    const next = law(from[Math.min(k + EASE_STEP, from.length - 1)]!);
    const end = Math.min(EASE_STEP, out.length - k);
    for (let j = 0; j < end; j++) out[k + j] = now + ((next - now) * j) / EASE_STEP;
    now = next;
  }
  return out;
}

/** Gain that grows with a power of a rate: 1 at the greatest rate of the clip. */
export function grows(hz: Signal, power: number): Signal {
  let top = 1e-6;
  for (const v of hz) top = Math.max(top, v);
  return eased(hz, (v) => (v <= 0 ? 0 : (v / top) ** power));
}

/** Bell over the logarithm of the speed round a centre. */
export const bump = (hz: Signal, centreHz: number, widthOctaves: number): Signal =>
  eased(hz, (v) => (v <= 0 ? 0 : Math.exp(-0.5 * (Math.log2(v / centreHz) / widthOctaves) ** 2)));

/** Samples at which the turns, times the events for a turn, pass a whole number. */
export function events(turns: Float64Array, perTurn: number, offset = 0): number[] {
  const out: number[] = [];
  let last = Math.floor(turns[0]! * perTurn + offset);
  for (let k = 1; k < turns.length; k++) {
    const now = Math.floor(turns[k]! * perTurn + offset);
    if (now > last) out.push(k);
    last = now;
  }
  return out;
}

/** Loudness swing tied to a shaft, mean 1: first and second order, now and then a narrow swell. */
export function swing(turns: Float64Array, depth: number, dice: Dice, order = 1): Signal {
  const second = depth * dice.between(0, 0.5);
  const [at, at2] = [dice.next(), dice.next()];
  const narrow = dice.chance(0.25) ? dice.between(1.5, 4) : 1;
  const out = new Float32Array(turns.length);
  for (let k = 0; k < out.length; k++) {
    const t = turns[k]! * order;
    const first =
      narrow === 1 ? turnSine(t + at) : 2 * (0.5 + 0.5 * turnSine(t + at)) ** narrow - 0.8;
    out[k] = Math.max(0, 1 + depth * first + second * turnSine(2 * t + at2));
  }
  return out;
}

/** Slow unsteadiness of loudness of some dB, mean about 1. */
export function unsteady(scene: Scene, db: number, dice: Dice, hz = 1): Signal {
  return eased(wander(scene.length, scene.rate, hz, dice), (v) => 10 ** ((db * v) / 20));
}

/** Sine that makes `order` swings for each turn; silent where it would leave the band. */
export function turnTone(scene: Scene, turns: Float64Array, order: number, offset: number): Signal {
  const out = new Float32Array(scene.length);
  for (let k = 1; k < out.length; k++) {
    const step = (turns[k]! - turns[k - 1]!) * order;
    if (step > 0 && step < 0.45) out[k] = turnSine(turns[k]! * order + offset);
  }
  return out;
}

/** Sines at multiples of a fixed rate. */
export function steadyTones(
  scene: Scene,
  rows: readonly (readonly [hz: number, size: number])[],
  dice: Dice,
): Signal {
  const out = new Float32Array(scene.length);
  for (const [hz, size] of rows) {
    if (hz > 0.45 * scene.rate) continue;
    const at = dice.next();
    for (let k = 0; k < out.length; k++)
      out[k] = out[k]! + size * turnSine((hz * k) / scene.rate + at);
  }
  return out;
}

/** Sum of tones on one shaft, each with its own share. */
export function turnTones(
  scene: Scene,
  turns: Float64Array,
  rows: readonly (readonly [order: number, size: number])[],
  dice: Dice,
): Signal {
  const out = new Float32Array(scene.length);
  for (const [order, size] of rows) add(out, turnTone(scene, turns, order, dice.next()), size);
  return out;
}

/** 1 inside the stretches (seconds), with soft edges. */
export function gate(
  scene: Scene,
  stretches: readonly (readonly [from: number, to: number])[],
  edge = 0.02,
): Signal {
  const out = new Float32Array(scene.length);
  for (const [from, to] of stretches) {
    const first = Math.max(0, Math.floor(from * scene.rate));
    const last = Math.min(scene.length, Math.ceil(to * scene.rate));
    for (let k = first; k < last; k++) {
      const t = k / scene.rate;
      out[k] = Math.max(out[k]!, Math.min(1, (t - from) / edge, (to - t) / edge));
    }
  }
  return out;
}

export const seconds = (scene: Scene): number => scene.length / scene.rate;

/** Moments of a random rain of events at a mean rate a second. */
export function rain(scene: Scene, perSecond: number, dice: Dice): number[] {
  const out: number[] = [];
  for (let t = 0; ;) {
    t -= Math.log(1 - dice.next()) / perSecond;
    if (t >= seconds(scene)) return out;
    out.push(Math.floor(t * scene.rate));
  }
}
