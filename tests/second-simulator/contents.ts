import type { Dice } from "./dice.js";
import type { Drive } from "./drive.js";
import { addBlow, addBouncing } from "./loose-mass.js";

const TWO_PI = 2 * Math.PI;
const GRAVITY = 9.81;

/** Hertz contact time of a ball on a flat, s: T = 2.87 (m² / (R E*² v))^(1/5). */
export function hertzContactSeconds(
  massKg: number,
  radiusM: number,
  stiffnessPa: number,
  speedMps: number,
): number {
  return 2.87 * Math.pow((massKg * massKg) / (radiusM * stiffnessPa * stiffnessPa * speedMps), 0.2);
}

export interface Tumbled {
  count: number;
  massKg: number;
  radiusM: number;
  /** Contact modulus, Pa. */
  stiffnessPa: number;
  restitution: number;
}

/** Things carried up the drum wall that slide or fall back once or twice a turn (front loader, below the speed where they stick). */
export function tumbleBlows(d: Drive, drumRadiusM: number, o: Tumbled, dice: Dice): Float32Array {
  const out = new Float32Array(d.length);
  for (let k = 0; k < o.count; k++)
    tumbleOne(out, d, { ...o, drumRadiusM }, dice.part(`t${String(k)}`));
  return out;
}

function tumbleOne(
  out: Float32Array,
  d: Drive,
  o: Tumbled & { drumRadiusM: number },
  dice: Dice,
): void {
  const rate = d.sampleRateHz;
  const R = o.drumRadiusM;
  let lift = dice.range(0.22, 0.42);
  let carried = dice.range(0, lift);
  let i = 0;
  while (i < d.length) {
    const step = Math.round(rate / 200);
    const hz = Math.abs(d.drumHz[i]!);
    carried += (hz * step) / rate;
    const w = TWO_PI * hz;
    const sticks = w * w * R > GRAVITY * 1.05;
    if (!sticks && hz > 0.05 && carried >= lift) {
      // Height fallen from the point of release to the bottom of the drum.
      const height = R * (1 - Math.cos(TWO_PI * lift)) * dice.range(0.5, 1);
      const fall = Math.sqrt((2 * height) / GRAVITY);
      const speed = Math.max(0.2, GRAVITY * fall);
      const contact = hertzContactSeconds(o.massKg, o.radiusM, o.stiffnessPa, speed) * rate;
      addBouncing(out, {
        atSample: i + fall * rate,
        strength: (o.massKg * speed) / Math.max(2, contact),
        contactSamples: contact,
        flightSamples: ((2 * o.restitution * speed) / GRAVITY) * rate * 0.4,
        restitution: o.restitution,
      });
      i += Math.round(fall * rate);
      carried = 0;
      lift = dice.range(0.18, 0.42);
    }
    i += step;
  }
}

/** Balls (or a slug of fluid) in a ring: dragged along by the ring, held back by weight, knocking together. */
export function ringBalls(
  d: Drive,
  o: { count: number; topLoad: boolean; bounceHz: number; drag: number; metal: boolean },
  dice: Dice,
): { clacks: Float32Array; pull: Float32Array } {
  const n = d.length;
  const clacks = new Float32Array(n);
  const pull = new Float32Array(n);
  const stepSamples = 16;
  const dt = stepSamples / d.sampleRateHz;
  const at = Array.from({ length: o.count }, (_, j) => j / o.count + 0.02 * dice.gauss());
  const speed = new Float64Array(o.count).fill(d.drumHz[0]!);
  const size = 0.035;
  const contact = Math.max(3, (o.metal ? 0.0003 : 0.004) * d.sampleRateHz);
  const weight = o.topLoad ? 0.12 : 1;
  let held = 0;
  for (let i = 0; i < n; i += stepSamples) {
    const drum = d.drumHz[i]!;
    const turns = d.drumTurns[i]!;
    const w = TWO_PI * drum;
    let sx = 0;
    let sy = 0;
    for (let j = 0; j < o.count; j++) {
      // Weight, and at speed the swing of the tub, pull the balls along the ring.
      const swing =
        0.02 *
        w *
        w *
        Math.exp(-Math.pow((Math.abs(drum) - o.bounceHz) / 1.5, 2)) *
        Math.sin(TWO_PI * (turns - at[j]!));
      const a =
        -(GRAVITY * weight * Math.sin(TWO_PI * at[j]!) + swing) / (TWO_PI * 0.24) +
        o.drag * (drum - speed[j]!);
      speed[j]! += a * dt;
      at[j]! += speed[j]! * dt;
      sx += Math.cos(TWO_PI * (at[j]! - turns));
      sy += Math.sin(TWO_PI * (at[j]! - turns));
    }
    knockTogether(at, speed, size, (strength) =>
      addBlow(clacks, i + dice.range(0, stepSamples), strength, contact),
    );
    held += 0.02 * (Math.sqrt(sx * sx + sy * sy) / o.count - held);
    for (let k = i; k < Math.min(n, i + stepSamples); k++)
      pull[k] = held * Math.sin(TWO_PI * turns);
  }
  return { clacks, pull };
}

function knockTogether(
  at: number[],
  speed: Float64Array,
  size: number,
  strike: (strength: number) => void,
): void {
  for (let j = 0; j < at.length; j++) {
    const k = (j + 1) % at.length;
    let gap = at[k]! - at[j]!;
    gap -= Math.floor(gap);
    const closing = speed[j]! - speed[k]!;
    if (gap > size && gap < 1 - size / 2) continue;
    if (gap <= size && closing > 0) {
      const mean = (speed[j]! + speed[k]!) / 2;
      speed[j] = mean - 0.35 * closing;
      speed[k] = mean + 0.35 * closing;
      if (closing > 0.03) strike(closing);
    }
  }
}

/** Share of a turn during which two parts touch because one runs out of true: 0..1 per sample. */
export function touchOncePerTurn(
  turns: Float64Array,
  o: { share: number; at: number; harmonics: number },
): Float32Array {
  const out = new Float32Array(turns.length);
  const edge = Math.cos(Math.PI * o.share);
  for (let i = 0; i < out.length; i++) {
    const runOut =
      Math.cos(TWO_PI * (turns[i]! - o.at)) +
      o.harmonics * Math.cos(2 * TWO_PI * (turns[i]! - o.at));
    if (runOut > edge) out[i] = (runOut - edge) / (1 - edge + 0.02);
  }
  return out;
}
