import type { Dice } from "./dice.js";

export type Signal = Float32Array;

export const fromDb = (db: number): number => 10 ** (db / 20);
export const toDb = (gain: number): number => 20 * Math.log10(Math.max(gain, 1e-12));

/** White noise of deviation 1: the sum of two even numbers from a fast word shifter. */
export function whiteNoise(length: number, dice: Dice): Signal {
  const out = new Float32Array(length);
  let word = Math.floor(dice.next() * 4294967295) | 1;
  const roll = (): number => {
    word ^= word << 13;
    word ^= word >>> 17;
    word ^= word << 5;
    return word;
  };
  const scale = Math.sqrt(1.5) / 2147483648;
  for (let k = 0; k < length; k++) out[k] = (roll() + roll()) * scale;
  return out;
}

/** Noise that falls 3 dB an octave: three leaky sums at spread rates (a common approximation). */
export function pinkNoise(length: number, dice: Dice): Signal {
  const out = whiteNoise(length, dice);
  let [a, b, c] = [0, 0, 0];
  for (let k = 0; k < length; k++) {
    const w = out[k]!;
    a = 0.99765 * a + w * 0.099046;
    b = 0.963 * b + w * 0.2965164;
    c = 0.57 * c + w * 1.0526913;
    out[k] = (a + b + c + w * 0.1848) * 0.4;
  }
  return out;
}

type Shape = "low" | "high" | "band" | "peak";

/** Second-order section, in place; the bilinear forms of the audio-equaliser cookbook. */
export function section(
  x: Signal,
  rate: number,
  shape: Shape,
  hz: number,
  q = 0.707,
  db = 0,
): Signal {
  const w = 2 * Math.PI * Math.min(hz / rate, 0.48);
  const cos = Math.cos(w);
  const alpha = Math.sin(w) / (2 * q);
  const lift = 10 ** (db / 40);
  const a0 = shape === "peak" ? 1 + alpha / lift : 1 + alpha;
  const a2 = (shape === "peak" ? 1 - alpha / lift : 1 - alpha) / a0;
  const a1 = (-2 * cos) / a0;
  const feed: Record<Shape, [number, number, number]> = {
    low: [(1 - cos) / 2, 1 - cos, (1 - cos) / 2],
    high: [(1 + cos) / 2, -1 - cos, (1 + cos) / 2],
    band: [alpha, 0, -alpha],
    peak: [1 + alpha * lift, -2 * cos, 1 - alpha * lift],
  };
  const [b0, b1, b2] = feed[shape].map((b) => b / a0) as [number, number, number];
  let [s1, s2] = [0, 0];
  for (let k = 0; k < x.length; k++) {
    const v = x[k]!;
    const y = b0 * v + s1;
    s1 = b1 * v - a1 * y + s2;
    s2 = b2 * v - a2 * y;
    x[k] = y;
  }
  return x;
}

/** First-order slope, in place. */
export function slope(x: Signal, rate: number, shape: "low" | "high", hz: number): Signal {
  const keep = Math.exp((-2 * Math.PI * hz) / rate);
  let low = 0;
  for (let k = 0; k < x.length; k++) {
    const v = x[k]!;
    low += (1 - keep) * (v - low);
    x[k] = shape === "low" ? low : v - low;
  }
  return x;
}

/** What lies between two edges, in place; an edge above the band is left out. */
export function band(x: Signal, rate: number, low: number, high: number, order = 1): Signal {
  for (let k = 0; k < order; k++) {
    section(x, rate, "high", Math.min(low, 0.4 * rate));
    if (high < 0.45 * rate) section(x, rate, "low", high);
  }
  return x;
}

/** Shaped noise: pink or white between two edges. */
export function bandNoise(
  length: number,
  rate: number,
  edges: readonly [number, number],
  dice: Dice,
): Signal {
  const noise = dice.chance(0.6) ? pinkNoise(length, dice) : whiteNoise(length, dice);
  return band(noise, rate, edges[0], edges[1], dice.whole(1, 2));
}

export function times(x: Signal, gain: ArrayLike<number>): Signal {
  for (let k = 0; k < x.length; k++) x[k] = x[k]! * gain[k]!;
  return x;
}

export function scaled(x: Signal, gain: number): Signal {
  for (let k = 0; k < x.length; k++) x[k] = x[k]! * gain;
  return x;
}

export function add(onto: Signal, x: Signal, gain = 1): Signal {
  for (let k = 0; k < onto.length; k++) onto[k] = onto[k]! + gain * x[k]!;
  return onto;
}

export function rms(x: ArrayLike<number>): number {
  let sum = 0;
  for (let k = 0; k < x.length; k++) sum += x[k]! ** 2;
  return Math.sqrt(sum / Math.max(x.length, 1));
}

/** Deviation 1; silence stays silence. */
export function levelled(x: Signal): Signal {
  const size = rms(x);
  return size > 0 ? scaled(x, 1 / size) : x;
}

/** Slow random swing of deviation 1 with nothing above `hz`. */
export function wander(length: number, rate: number, hz: number, dice: Dice): Signal {
  const step = Math.max(1, Math.floor(rate / (hz * 8)));
  const knots = Math.ceil(length / step) + 2;
  const coarse = levelled(slope(whiteNoise(knots + 64, dice), 8, "low", 1)).subarray(64);
  const out = new Float32Array(length);
  for (let k = 0; k < length; k++) {
    const at = k / step;
    const left = Math.floor(at);
    out[k] = coarse[left]! + (at - left) * ((coarse[left + 1] ?? 0) - coarse[left]!);
  }
  return out;
}

/** A way in which something rings. */
export interface Mode {
  hz: number;
  decaySeconds: number;
  share: number;
}

export function drawModes(
  dice: Dice,
  range: readonly [number, number],
  count: number,
  decay: readonly [number, number],
): Mode[] {
  return Array.from({ length: count }, () => ({
    hz: dice.spread(range[0], range[1]),
    decaySeconds: dice.spread(decay[0], decay[1]),
    share: dice.between(0.3, 1) * (dice.chance(0.5) ? 1 : -1),
  }));
}

/** Adds one blow at a sample: every mode rings down; `softness` is the rise time in seconds. */
export function knock(
  out: Signal,
  rate: number,
  at: number,
  size: number,
  modes: readonly Mode[],
  softness = 0,
): void {
  for (const mode of modes) {
    if (mode.hz > 0.45 * rate) continue;
    ringInto(out, rate, at, size * mode.share, mode.hz, mode.decaySeconds);
    if (softness > 0) {
      const quick = 1 / (1 / mode.decaySeconds + 1 / softness);
      ringInto(out, rate, at, -size * mode.share, mode.hz, quick);
    }
  }
}

function ringInto(
  out: Signal,
  rate: number,
  at: number,
  size: number,
  hz: number,
  decay: number,
): void {
  const from = Math.max(0, Math.round(at));
  const to = Math.min(out.length, from + Math.ceil(7 * decay * rate));
  const w = (2 * Math.PI * hz) / rate;
  const r = Math.exp(-1 / (decay * rate));
  const a1 = 2 * r * Math.cos(w);
  const a2 = -r * r;
  let before = 0;
  let now = size * r * Math.sin(w);
  for (let k = from; k < to; k++) {
    out[k] = out[k]! + now;
    const next = a1 * now + a2 * before;
    before = now;
    now = next;
  }
}

const TABLE_SIZE = 8192;
const TABLE = Float64Array.from({ length: TABLE_SIZE + 1 }, (_, k) =>
  Math.sin((2 * Math.PI * k) / TABLE_SIZE),
);

/** Sine of so many turns. */
export function turnSine(turns: number): number {
  const at = (turns - Math.floor(turns)) * TABLE_SIZE;
  const left = Math.floor(at);
  return TABLE[left]! + (at - left) * (TABLE[left + 1]! - TABLE[left]!);
}
