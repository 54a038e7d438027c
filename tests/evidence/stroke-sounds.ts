import { createRandom, type Random } from "../../src/foundation/random.js";

/** Sample rate of the test sounds. */
export const RATE = 16_000;

export const silence = (seconds: number): Float64Array =>
  new Float64Array(Math.round(seconds * RATE));

/** Adds b to a in place, b starting at a moment. */
export function mixIn(a: Float64Array, b: Float64Array, atSeconds = 0, gain = 1): Float64Array {
  const first = Math.round(atSeconds * RATE);
  for (let i = 0; i < b.length && first + i < a.length; i++) {
    if (first + i >= 0) a[first + i]! += gain * b[i]!;
  }
  return a;
}

/** Noise with a spectrum that falls off above `cornerHz` by 6 dB per octave, RMS 1. */
export function noise(seconds: number, random: Random, cornerHz = 800): Float64Array {
  const out = silence(seconds);
  const a = Math.exp((-2 * Math.PI * cornerHz) / RATE);
  let y = 0;
  let sum = 0;
  for (let i = 0; i < out.length; i++) {
    y = a * y + random.normal();
    out[i] = y + 0.15 * random.normal();
    sum += out[i]! ** 2;
  }
  const scale = 1 / Math.sqrt(sum / Math.max(1, out.length));
  return out.map((v) => v * scale);
}

/** A mode struck once: decaying sine with a burst of noise in its first milliseconds. */
export function blow(hz: number, tauSeconds: number, random: Random, hardness = 0.5): Float64Array {
  const out = silence(Math.min(1, 7 * tauSeconds + 0.01));
  const phase = random.between(0, 6.28);
  for (let i = 0; i < out.length; i++) {
    const t = i / RATE;
    out[i] =
      Math.exp(-t / tauSeconds) * Math.sin(2 * Math.PI * hz * t + phase) * Math.min(1, t / 0.0005) +
      hardness * Math.exp(-t / 0.002) * random.normal();
  }
  return out;
}

/** Tones at multiples of the mains frequency; `levels[k]` is the amplitude of multiple k + 1. */
export function mainsComb(
  seconds: number,
  lineHz: number,
  levels: readonly number[],
): Float64Array {
  const out = silence(seconds);
  levels.forEach((level, k) => {
    const w = (2 * Math.PI * lineHz * (k + 1)) / RATE;
    for (let i = 0; i < out.length; i++) out[i]! += level * Math.sin(w * i + k * 1.3);
  });
  return out;
}

export interface StrokeRecipe {
  readonly strokesPerMinute: number;
  /** Share of the period in which the motor drives. */
  readonly duty: number;
  /** Amplitude of gear-mesh growl against the stroke's noise; 0 in a healthy machine. */
  readonly growl?: number;
  /** Amplitude of one clack at each stroke's start. */
  readonly clack?: number;
  /** Amplitude of ratchet clicks in every second stroke. */
  readonly oneWay?: number;
  /** Level of the pauses against the strokes. */
  readonly pauseLevel?: number;
}

/** Agitation of a top loader: noise, hum and a motor whine that rises and falls, stroke by stroke. */
export function agitation(seconds: number, recipe: StrokeRecipe, random: Random): Float64Array {
  const { growl = 0, clack = 0, oneWay = 0, pauseLevel = 0.1 } = recipe;
  const out = noise(seconds, random).map((v) => v * pauseLevel);
  const period = 60 / recipe.strokesPerMinute;
  const rubs = noise(seconds, random);
  let stroke = 0;
  for (let start = 0.3; start + period < seconds; start += period * (1 + 0.02 * random.normal())) {
    const length = recipe.duty * period;
    const first = Math.round(start * RATE);
    let turn = 0;
    for (let i = 0; i < length * RATE && first + i < out.length; i++) {
      const t = i / RATE;
      const speed = Math.min(1, t / (0.25 * length), (length - t) / (0.2 * length));
      turn += (2 * Math.PI * 24 * speed) / RATE;
      let v = Math.sqrt(speed) * rubs[first + i]! + 0.3 * Math.sin(2 * Math.PI * 120 * t);
      v += 0.3 * speed * Math.sin(12 * turn) + 0.1 * speed * Math.sin(24 * turn);
      if (growl > 0) {
        let mesh = 0;
        for (let h = 1; h <= 10; h++) mesh += Math.sin(7 * h * turn + h * h) / Math.sqrt(h);
        v += growl * speed * mesh * (1 + 0.5 * Math.sin(turn));
      }
      out[first + i]! += v;
    }
    if (clack > 0) mixIn(out, blow(500, 0.015, random, 1), start, clack);
    if (oneWay > 0 && stroke % 2 === 1) {
      for (let t = 0.05; t < length - 0.03; t += 0.045) {
        mixIn(out, blow(2200, 0.003, random, 1), start + t, oneWay);
      }
    }
    stroke++;
  }
  return out;
}

/** What a phone in a room does: low cut, broad colouring, an echoing tail, slow gain control. */
export function throughPhone(dry: Float64Array, seed: number, withAgc = false): Float64Array {
  const random = createRandom(seed).fork("phone");
  let x: Float64Array = Float64Array.from(dry);
  for (let k = 0; k < 3; k++) {
    x = peaking(
      x,
      120 * 2 ** random.between(0, 5.5),
      random.between(-8, 8),
      random.between(0.5, 1.5),
    );
  }
  x = roomTail(x, random.between(0.25, 0.7), random.between(0.1, 0.35));
  x = highPass(x, random.between(60, 150));
  if (withAgc) x = gainControl(x, random.between(0.02, 0.06), random.between(0.3, 1));
  const floor = 10 ** (random.between(-60, -45) / 20);
  let peak = 0;
  for (const v of x) peak = Math.max(peak, Math.abs(v));
  const gain = random.between(0.2, 0.9) / peak;
  for (let i = 0; i < x.length; i++) x[i] = x[i]! * gain + floor * 0.1 * random.normal();
  return x;
}

function biquad(x: Float64Array, b: readonly number[], a: readonly number[]): Float64Array {
  const y = new Float64Array(x.length);
  const [b0, b1, b2] = b as [number, number, number];
  const [a0, a1, a2] = a as [number, number, number];
  let [x1, x2, y1, y2] = [0, 0, 0, 0];
  for (let i = 0; i < x.length; i++) {
    const v = (b0 * x[i]! + b1 * x1 + b2 * x2 - a1 * y1 - a2 * y2) / a0;
    x2 = x1;
    x1 = x[i]!;
    y2 = y1;
    y1 = v;
    y[i] = v;
  }
  return y;
}

function peaking(x: Float64Array, hz: number, gainDb: number, q: number): Float64Array {
  const w = (2 * Math.PI * hz) / RATE;
  const A = 10 ** (gainDb / 40);
  const alpha = Math.sin(w) / (2 * q);
  return biquad(
    x,
    [1 + alpha * A, -2 * Math.cos(w), 1 - alpha * A],
    [1 + alpha / A, -2 * Math.cos(w), 1 - alpha / A],
  );
}

function highPass(x: Float64Array, hz: number): Float64Array {
  const w = (2 * Math.PI * hz) / RATE;
  const alpha = Math.sin(w) / Math.SQRT2;
  const c = Math.cos(w);
  return biquad(x, [(1 + c) / 2, -(1 + c), (1 + c) / 2], [1 + alpha, -2 * c, 1 - alpha]);
}

/** Feedback combs after a direct path: a tail that falls 60 dB in `seconds`. */
function roomTail(x: Float64Array, seconds: number, share: number): Float64Array {
  const y = Float64Array.from(x);
  for (const delay of [467, 593, 811, 1151]) {
    const feedback = 10 ** ((-3 * delay) / RATE / seconds);
    const line = new Float64Array(delay);
    for (let i = 0, j = 0; i < x.length; i++, j++) {
      if (j === delay) j = 0;
      const old = line[j]!;
      line[j] = x[i]! + feedback * old;
      y[i]! += share * old * 0.5;
    }
  }
  return y;
}

function gainControl(x: Float64Array, attackSeconds: number, releaseSeconds: number): Float64Array {
  let level = 0;
  let target = 0;
  for (const v of x) target += Math.abs(v) / x.length;
  const y = new Float64Array(x.length);
  const up = Math.exp(-1 / (attackSeconds * RATE));
  const down = Math.exp(-1 / (releaseSeconds * RATE));
  for (let i = 0; i < x.length; i++) {
    const v = Math.abs(x[i]!);
    level = v > level ? up * level + (1 - up) * v : down * level + (1 - down) * v;
    y[i] = x[i]! * Math.min(4, (target / Math.max(1e-9, level)) ** 0.6);
  }
  return y;
}
