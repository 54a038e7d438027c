import type { Character, Phase } from "../../src/machine/words.js";
import type { Dice } from "./dice.js";
import type { Drive, DriveWish, SpinShape } from "./drive.js";
import { addTo, ring, rmsOf, thinInPlace } from "./filters.js";
import { heightAt, roughSurface, type Surface } from "./surface.js";
import { shakeTub, type Tub, type TubMotion } from "./tub.js";
import type { Path, Washer } from "./washer.js";

/** One machine running through one clip. */
export interface Scene {
  washer: Washer;
  drive: Drive;
  dice: Dice;
}

/** A force and the way it takes to the air. */
export interface Layer {
  force: Float32Array;
  path: Path;
  /** Level of this layer among those of the same source, dB. */
  db: number;
}

/** One way in which a part fails and sounds. */
export interface Variant {
  name: string;
  character: Character;
  phases: readonly Phase[];
  fits: (w: Washer) => boolean;
  shapes?: readonly SpinShape[];
  wish?: Partial<DriveWish>;
  layers: (s: Scene) => Layer[];
}

export const TWO_PI = 2 * Math.PI;

/** A row filled from a function of the sample number. */
export function row(s: Scene, at: (i: number) => number): Float32Array {
  const out = new Float32Array(s.drive.length);
  for (let i = 0; i < out.length; i++) out[i] = at(i);
  return out;
}

/** The machine's tub in order, unless told otherwise. */
export function tubOf(s: Scene, change: Partial<Tub> = {}): TubMotion {
  const w = s.washer;
  const tub: Tub = {
    bounceHz: w.bounceHz,
    swayHz: w.swayHz,
    damping: w.tubDamping,
    dryMps2: 0.3,
    unbalanceM: w.unbalanceM,
    gapM: w.tubGapM,
    contactSeconds: 0.012,
    restitution: 0.4,
    ...change,
  };
  return shakeTub(tub, s.drive.drumTurns, s.drive.drumHz, s.drive.sampleRateHz);
}

/** Value that a share of the absolute samples stays under. */
export function levelOf(x: Float32Array, share: number): number {
  const some = new Float32Array(Math.ceil(x.length / 16));
  for (let i = 0; i < some.length; i++) some[i] = Math.abs(x[i * 16]!);
  some.sort();
  return some[Math.min(some.length - 1, Math.floor(share * some.length))]!;
}

/** Twist between drive and driven part: motor torque while powered, inertia when turned otherwise. */
export function twistOf(s: Scene): Float32Array {
  const { drive } = s;
  const step = Math.round(drive.sampleRateHz / 100);
  return row(s, (i) => {
    if (drive.power[i]! > 0.5) return drive.torque[i]!;
    const later = drive.drumHz[Math.min(drive.length - 1, i + step)]!;
    const a = (later - drive.drumHz[Math.max(0, i - step)]!) * (drive.sampleRateHz / (2 * step));
    return 0.5 * Math.tanh(a);
  });
}

/** Sliding of a rough rim over a rough edge: the rim's own profile, once round per turn, and loose grit between. */
export function scrapeForce(
  s: Scene,
  touch: Float32Array,
  o: { radiusM: number; grit: number; rim?: Surface },
): Float32Array {
  const d = s.drive;
  const rim =
    o.rim ??
    roughSurface(s.dice.part("rim"), {
      finestWaves: 3000,
      waviness: 0,
      pits: 6,
      pitDepth: 3,
      pitLength: 0.001,
      patchiness: 0.5,
    });
  const grit = s.dice.part("grit").noise(d.length);
  return row(s, (i) => {
    if (touch[i]! <= 0) return 0;
    const speed = Math.abs(d.drumHz[i]!) * TWO_PI * o.radiusM;
    return (
      touch[i]! *
      Math.pow(Math.min(speed, 30), 0.7) *
      (heightAt(rim, d.drumTurns[i]!) + o.grit * grit[i]!)
    );
  });
}

const FRAME_SECONDS = 0.05;

/** RMS over 50 ms frames, taken above the lowest bass that no phone carries. */
export function frameLevels(x: Float32Array, sampleRateHz: number): Float32Array {
  const y = thinInPlace(thinInPlace(new Float32Array(x), 120, sampleRateHz), 120, sampleRateHz);
  const size = Math.round(FRAME_SECONDS * sampleRateHz);
  const out = new Float32Array(Math.max(1, Math.floor(y.length / size)));
  for (let k = 0; k < out.length; k++) out[k] = rmsOf(y.subarray(k * size, (k + 1) * size));
  return out;
}

/** RMS while it sounds: over the frames within 20 dB of the loudest tenth. */
export function soundingLevel(levels: Float32Array): { rms: number; frames: boolean[] } {
  const sorted = Float32Array.from(levels).sort();
  const loud = sorted[Math.floor(0.98 * (sorted.length - 1))]!;
  const frames = Array.from(levels, (v) => v > 0.1 * loud && v > 0);
  let sum = 0;
  let count = 0;
  frames.forEach((on, k) => {
    if (on) {
      sum += levels[k]! * levels[k]!;
      count++;
    }
  });
  return { rms: Math.sqrt(sum / Math.max(1, count)), frames };
}

/** Sound of several layers, each brought to its level while it sounds. */
export function radiate(s: Scene, layers: readonly Layer[]): Float32Array {
  const out = new Float32Array(s.drive.length);
  for (const layer of layers) {
    if (!layer.force.some((v) => v !== 0)) continue;
    const sound = ring(s.washer.banks[layer.path], layer.force, s.drive.sampleRateHz);
    // Small compact bodies radiate poorly in the bass.
    thinInPlace(thinInPlace(sound, 65, s.drive.sampleRateHz), 65, s.drive.sampleRateHz);
    const { rms } = soundingLevel(frameLevels(sound, s.drive.sampleRateHz));
    if (rms > 0) addTo(out, sound, Math.pow(10, layer.db / 20) / rms);
  }
  return out;
}
