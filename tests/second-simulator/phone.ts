import type { Dice } from "./dice.js";
import { biquad, filterInPlace, rmsOf, thinInPlace } from "./filters.js";

export interface Phone {
  /** Rate of the finished recording and of the simulation before the phone, Hz. */
  rateHz: number;
  innerRateHz: number;
  highPassHz: number;
  highPassOrder: number;
  bells: readonly { hz: number; q: number; db: number }[];
  gainControl: boolean;
  noiseSuppression: boolean;
  clips: boolean;
  levelDb: number;
  codec: "none" | "mu-law" | "4-bit difference" | "low-pass";
  codecHz: number;
}

export function drawPhone(dice: Dice): Phone {
  const roll = dice.unit();
  const rateHz = roll < 0.42 ? 44100 : roll < 0.78 ? 48000 : roll < 0.92 ? 16000 : 8000;
  const clips = dice.chance(0.06);
  const codec =
    rateHz === 8000
      ? dice.pick(["mu-law", "4-bit difference"] as const)
      : rateHz === 16000
        ? dice.pick(["none", "4-bit difference"] as const)
        : dice.pick(["none", "none", "low-pass"] as const);
  return {
    rateHz,
    innerRateHz: rateHz < 20000 ? 32000 : rateHz,
    highPassHz: dice.ratio(60, rateHz === 8000 ? 250 : 200),
    highPassOrder: dice.whole(1, 4),
    bells: Array.from({ length: 3 }, () => ({
      hz: dice.ratio(150, 9000),
      q: dice.range(0.4, 2),
      db: dice.range(-8, 8),
    })),
    gainControl: dice.chance(0.35),
    noiseSuppression: dice.chance(0.12),
    clips,
    levelDb: clips ? dice.range(-10, -5) : dice.range(-42, -16),
    codec,
    codecHz: dice.ratio(8000, 16000),
  };
}

export function describePhone(p: Phone): string {
  const parts = [
    `${String(p.rateHz)} Hz`,
    `high-pass ${p.highPassHz.toFixed(0)} Hz order ${String(p.highPassOrder)}`,
  ];
  if (p.gainControl) parts.push("gain control");
  if (p.noiseSuppression) parts.push("noise suppression");
  if (p.clips) parts.push("clipping");
  return parts.join(", ");
}

/** Microphone, filters, gain control and conversion of one phone. */
export function throughPhone(sound: Float32Array, p: Phone, dice: Dice): Float32Array {
  let x = throughMicrophone(sound, p);
  if (p.codec === "low-pass")
    for (let k = 0; k < 3; k++) filterInPlace(x, biquad("low", p.codecHz, 0.8, p.rateHz));
  if (p.noiseSuppression) x = suppressed(x, p.rateHz);
  const level = Math.pow(10, p.levelDb / 20) / Math.max(1e-12, rmsOf(x));
  const hiss = dice.noise(x.length);
  const hissLevel = Math.pow(10, dice.range(-78, -62) / 20);
  for (let i = 0; i < x.length; i++) x[i] = x[i]! * level + hissLevel * hiss[i]!;
  if (p.gainControl) controlGain(x, p.rateHz, dice);
  if (!p.clips) limitPeaks(x);
  for (let i = 0; i < x.length; i++) x[i] = Math.max(-1, Math.min(32767 / 32768, x[i]!));
  if (p.codec === "mu-law") muLaw(x);
  if (p.codec === "4-bit difference") fourBit(x);
  for (let i = 0; i < x.length; i++) x[i] = Math.round(x[i]! * 32767) / 32768;
  return x;
}

/** Response of the microphone and the phone's filters, at the phone's rate. */
function throughMicrophone(sound: Float32Array, p: Phone): Float32Array {
  const rate = p.innerRateHz;
  if (p.highPassOrder % 2 === 1) thinInPlace(sound, p.highPassHz, rate);
  for (let k = 0; k < p.highPassOrder >> 1; k++)
    filterInPlace(sound, biquad("high", p.highPassHz, 0.7, rate));
  for (const b of p.bells)
    if (b.hz < 0.4 * rate) filterInPlace(sound, biquad("peak", b.hz, b.q, rate, b.db));
  return p.rateHz < rate ? decimate(sound, rate / p.rateHz) : sound;
}

/** Windowed-sinc low-pass and every k-th sample. */
function decimate(x: Float32Array, by: number): Float32Array {
  const half = 24 * by;
  const taps = new Float32Array(2 * half + 1);
  for (let k = -half; k <= half; k++) {
    const a = (Math.PI * k * 0.92) / by;
    const window =
      0.42 + 0.5 * Math.cos((Math.PI * k) / half) + 0.08 * Math.cos((2 * Math.PI * k) / half);
    taps[k + half] = ((k === 0 ? 1 : Math.sin(a) / a) * window * 0.92) / by;
  }
  const out = new Float32Array(Math.floor(x.length / by));
  for (let i = 0; i < out.length; i++) {
    const from = Math.max(0, i * by - half);
    const to = Math.min(x.length - 1, i * by + half);
    let sum = 0;
    for (let j = from; j <= to; j++) sum += x[j]! * taps[j - i * by + half]!;
    out[i] = sum;
  }
  return out;
}

/** Spectral subtraction over bands split by differences of low-passes (they add up to the input again). */
function suppressed(x: Float32Array, rate: number): Float32Array {
  const out = new Float32Array(x.length);
  const edges: number[] = [];
  for (let hz = 250; hz < 0.42 * rate; hz *= 1.7) edges.push(hz);
  let below = new Float32Array(x.length);
  for (let k = 0; k <= edges.length; k++) {
    let upTo: Float32Array<ArrayBuffer>;
    if (k === edges.length) upTo = new Float32Array(x);
    else
      upTo = filterInPlace(
        new Float32Array(x),
        biquad("low", edges[k]!, 0.6, rate),
      ) as Float32Array<ArrayBuffer>;
    subtractFloor(upTo, below, out, rate);
    below = upTo;
  }
  return out;
}

function subtractFloor(
  upTo: Float32Array,
  below: Float32Array,
  out: Float32Array,
  rate: number,
): void {
  const quick = 1 - Math.exp(-1 / (0.015 * rate));
  const rise = Math.exp(1 / (1.2 * rate));
  let level = 0;
  let floor = 1e9;
  let gain = 1;
  for (let i = 0; i < out.length; i++) {
    const band = upTo[i]! - below[i]!;
    level += quick * (Math.abs(band) - level);
    floor = Math.min(floor * rise, level + 1e-9);
    const wanted = Math.max(0.15, 1 - (1.15 * floor) / (level + 1e-12));
    // Two thirds of a second pass before the floor is trusted.
    gain += quick * ((i < 0.6 * rate ? 1 : wanted) - gain);
    out[i]! += gain * band;
  }
}

function controlGain(x: Float32Array, rate: number, dice: Dice): void {
  const target = Math.pow(10, dice.range(-24, -15) / 20);
  const attack = 1 - Math.exp(-1 / (dice.ratio(0.004, 0.05) * rate));
  const release = 1 - Math.exp(-1 / (dice.ratio(0.1, 1.5) * rate));
  const strength = dice.range(0.5, 1);
  let level = target;
  for (let i = 0; i < x.length; i++) {
    const a = Math.abs(x[i]!) * 1.3;
    level += (a > level ? attack : release) * (a - level);
    const gain = Math.pow(target / (level + 0.02 * target), strength);
    x[i]! *= Math.min(8, gain);
  }
}

/** Soft knee above 0.7 of full scale. */
function limitPeaks(x: Float32Array): void {
  for (let i = 0; i < x.length; i++) {
    const a = Math.abs(x[i]!);
    if (a > 0.7) x[i] = Math.sign(x[i]!) * (0.7 + 0.29 * Math.tanh((a - 0.7) / 0.29));
  }
}

function muLaw(x: Float32Array): void {
  const scale = Math.log(256);
  for (let i = 0; i < x.length; i++) {
    const a = Math.log(1 + 255 * Math.abs(x[i]!)) / scale;
    const coded = Math.round(a * 127) / 127;
    x[i] = (Math.sign(x[i]!) * (Math.exp(coded * scale) - 1)) / 255;
  }
}

/** Adaptive differential coding with four bits a sample. */
function fourBit(x: Float32Array): void {
  let step = 0.002;
  let guess = 0;
  for (let i = 0; i < x.length; i++) {
    const code = Math.max(-7, Math.min(7, Math.round((x[i]! - guess) / step)));
    guess = Math.max(-1, Math.min(1, guess + code * step));
    step = Math.max(
      1e-4,
      Math.min(0.2, step * (Math.abs(code) > 5 ? 1.7 : Math.abs(code) < 3 ? 0.93 : 1.05)),
    );
    x[i] = guess;
  }
}
