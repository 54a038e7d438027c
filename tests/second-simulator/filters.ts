import type { Dice } from "./dice.js";

/** One resonance of a structure: gain is the response at the peak. */
export interface Mode {
  hz: number;
  damping: number;
  gain: number;
}
export type Bank = readonly Mode[];

export interface BankShape {
  lowHz: number;
  highHz: number;
  count: number;
  tiltDbPerOctave: number;
  damping: readonly [number, number];
}

/** Modes at random, near-even musical spacing, with a drawn tilt and ±6 dB of scatter. */
export function drawBank(dice: Dice, shape: BankShape): Bank {
  const octaves = Math.log2(shape.highHz / shape.lowHz);
  return Array.from({ length: shape.count }, (_, i) => {
    const at = (octaves * (i + dice.range(-0.4, 0.4) + 0.5)) / shape.count;
    const db = shape.tiltDbPerOctave * at + 6 * Math.max(-2, Math.min(2, dice.gauss()));
    const sign = dice.chance(0.5) ? 1 : -1;
    return {
      hz: shape.lowHz * Math.pow(2, at),
      damping: dice.ratio(shape.damping[0], shape.damping[1]),
      gain: sign * Math.pow(10, db / 20),
    };
  });
}

/** Response of a bank of modes to a force; each mode is a two-pole recursion. */
export function ring(bank: Bank, force: Float32Array, sampleRateHz: number): Float32Array {
  const out = new Float32Array(force.length);
  for (const mode of bank) {
    if (mode.hz < 0.45 * sampleRateHz) addMode(mode, force, sampleRateHz, out);
  }
  return out;
}

function addMode(mode: Mode, force: Float32Array, sampleRateHz: number, out: Float32Array): void {
  const w = (2 * Math.PI * mode.hz) / sampleRateHz;
  const r = Math.exp(-mode.damping * w);
  const a1 = 2 * r * Math.cos(w);
  const a2 = -r * r;
  const b = (mode.gain * (1 - r * r)) / 2;
  let x1 = 0;
  let x2 = 0;
  let y1 = 0;
  let y2 = 0;
  for (let i = 0; i < force.length; i++) {
    const x = force[i]!;
    // The tiny constant keeps decaying modes out of the slow denormal numbers.
    const y = b * (x - x2) + a1 * y1 + a2 * y2 + 1e-25;
    x2 = x1;
    x1 = x;
    y2 = y1;
    y1 = y;
    out[i]! += y;
  }
}

export interface Biquad {
  b0: number;
  b1: number;
  b2: number;
  a1: number;
  a2: number;
}

/** Second-order section by the bilinear transform of the analogue prototype. */
export function biquad(
  kind: "low" | "high" | "peak" | "band",
  hz: number,
  q: number,
  sampleRateHz: number,
  gainDb = 0,
): Biquad {
  const w = (2 * Math.PI * Math.min(hz, 0.47 * sampleRateHz)) / sampleRateHz;
  const cos = Math.cos(w);
  const alpha = Math.sin(w) / (2 * q);
  if (kind === "peak") {
    const a = Math.pow(10, gainDb / 40);
    const n = 1 + alpha / a;
    return {
      b0: (1 + alpha * a) / n,
      b1: (-2 * cos) / n,
      b2: (1 - alpha * a) / n,
      a1: (-2 * cos) / n,
      a2: (1 - alpha / a) / n,
    };
  }
  const n = 1 + alpha;
  const poles = { a1: (-2 * cos) / n, a2: (1 - alpha) / n };
  if (kind === "band") return { b0: alpha / n, b1: 0, b2: -alpha / n, ...poles };
  const side = kind === "low" ? 1 - cos : 1 + cos;
  const middle = kind === "low" ? side : -side;
  return { b0: side / 2 / n, b1: middle / n, b2: side / 2 / n, ...poles };
}

/** Runs a section over the samples in place. */
export function filterInPlace(x: Float32Array, f: Biquad): Float32Array {
  let s1 = 0;
  let s2 = 0;
  for (let i = 0; i < x.length; i++) {
    const v = x[i]!;
    const y = f.b0 * v + s1 + 1e-25;
    s1 = f.b1 * v - f.a1 * y + s2;
    s2 = f.b2 * v - f.a2 * y;
    x[i] = y;
  }
  return x;
}

/** First-order low-pass in place. */
export function softenInPlace(x: Float32Array, hz: number, sampleRateHz: number): Float32Array {
  const k = 1 - Math.exp((-2 * Math.PI * hz) / sampleRateHz);
  let y = 0;
  for (let i = 0; i < x.length; i++) {
    y += k * (x[i]! - y) + 1e-25;
    x[i] = y;
  }
  return x;
}

/** First-order high-pass in place. */
export function thinInPlace(x: Float32Array, hz: number, sampleRateHz: number): Float32Array {
  const k = 1 - Math.exp((-2 * Math.PI * hz) / sampleRateHz);
  let low = 0;
  for (let i = 0; i < x.length; i++) {
    low += k * (x[i]! - low) + 1e-25;
    x[i] = x[i]! - low;
  }
  return x;
}

/** Slowly wandering curve around 1 (random walk through a first-order low-pass). */
export function wander(
  dice: Dice,
  length: number,
  hz: number,
  depth: number,
  sampleRateHz: number,
): Float32Array {
  const step = Math.max(1, Math.floor(sampleRateHz / (hz * 40)));
  const points = Math.ceil(length / step) + 2;
  const curve = new Float32Array(points);
  const k = 1 - Math.exp((-2 * Math.PI * hz * step) / sampleRateHz);
  const norm = Math.sqrt((2 - k) / k);
  let y = 0;
  for (let i = 0; i < points; i++) {
    y += k * (dice.gauss() * norm - y);
    curve[i] = 1 + depth * y;
  }
  const out = new Float32Array(length);
  for (let i = 0; i < length; i++) {
    const p = i / step;
    const j = Math.floor(p);
    out[i] = curve[j]! + (curve[j + 1]! - curve[j]!) * (p - j);
  }
  return out;
}

export function rmsOf(x: Float32Array): number {
  let sum = 0;
  for (let i = 0; i < x.length; i++) sum += x[i]! * x[i]!;
  return Math.sqrt(sum / Math.max(1, x.length));
}

export function addTo(out: Float32Array, x: Float32Array, gain = 1): void {
  for (let i = 0; i < out.length; i++) out[i]! += gain * x[i]!;
}
