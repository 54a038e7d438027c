import type { Dice } from "./dice.js";

/** A surface over one turn (or one belt length), read at a fraction of the turn. */
export type Surface = Float32Array;

export interface Roughness {
  /** Finest wave, in waves per turn. */
  finestWaves: number;
  /** Share of the long waves (out-of-round) against the fine ones. */
  waviness: number;
  /** Pits: damaged stretches with sharp edges. */
  pits: number;
  pitDepth: number;
  /** Length of a pit as a share of the turn. */
  pitLength: number;
  /** Depth by which roughness varies round the turn, 0..1. */
  patchiness: number;
}

const TWO_PI = 2 * Math.PI;

function smoothRound(x: Float32Array, width: number): Float32Array {
  const n = x.length;
  const w = Math.max(1, Math.floor(width));
  const out = new Float32Array(n);
  let sum = 0;
  for (let i = 0; i < w; i++) sum += x[i]!;
  for (let i = 0; i < n; i++) {
    out[i] = sum / w;
    sum += x[(i + w) % n]! - x[i]!;
  }
  return out;
}

/** Random round surface of RMS near 1, with pits, as measured profiles of worn races look. */
export function roughSurface(dice: Dice, r: Roughness): Surface {
  const size = 16384;
  const fine = smoothRound(
    smoothRound(dice.noise(size), size / (2.2 * r.finestWaves)),
    size / (2.2 * r.finestWaves),
  );
  const out = new Float32Array(size);
  const gain = Math.sqrt(size / (2.2 * r.finestWaves));
  const phase = dice.unit();
  const phase2 = dice.unit();
  for (let i = 0; i < size; i++) {
    const patch =
      1 +
      r.patchiness *
        (0.7 * Math.cos(TWO_PI * (i / size - phase)) +
          0.4 * Math.cos(2 * TWO_PI * (i / size - phase2)));
    out[i] = fine[i]! * gain * Math.max(0.05, patch);
  }
  for (let k = 1; k <= 12; k++) {
    const a = (r.waviness * dice.gauss()) / Math.pow(k, 1.3);
    const p = dice.unit();
    for (let i = 0; i < size; i++) out[i]! += a * Math.cos(TWO_PI * ((k * i) / size + p));
  }
  for (let p = 0; p < r.pits; p++) carvePit(dice, out, r);
  return out;
}

function carvePit(dice: Dice, out: Surface, r: Roughness): void {
  const size = out.length;
  const length = Math.max(6, Math.floor(size * r.pitLength * dice.ratio(0.5, 2)));
  const start = dice.whole(0, size - 1);
  const depth = r.pitDepth * dice.ratio(0.6, 1.6);
  for (let k = 0; k < length; k++) {
    const edge = Math.min(1, Math.min(k, length - k) / 4);
    out[(start + k) % size]! -= depth * edge * (0.75 + 0.5 * dice.unit());
  }
}

/** Height at a fraction of the turn. */
export function heightAt(s: Surface, turns: number): number {
  const p = (turns - Math.floor(turns)) * s.length;
  const i = p | 0;
  const a = s[i]!;
  const b = s[i + 1 < s.length ? i + 1 : 0]!;
  return a + (b - a) * (p - i);
}
