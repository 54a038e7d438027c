import { createRandom, type Random } from "../../src/foundation/random.js";
import { shapeSpectrum } from "../shape-spectrum.js";

/** Sample rate of every sound here. */
export const RATE_HZ = 16_000;

export type Speed = (seconds: number) => number;

function make(seconds: number, at: (i: number) => number): Float64Array {
  const out = new Float64Array(Math.round(seconds * RATE_HZ));
  for (let i = 0; i < out.length; i++) out[i] = at(i);
  return out;
}

/** Σ gain_k sound_k; the length of the first. */
export function mix(...parts: readonly (readonly [number, Float64Array])[]): Float64Array {
  const out = new Float64Array(parts[0]![1].length);
  for (const [gain, sound] of parts) {
    for (let i = 0; i < out.length; i++) out[i]! += gain * (sound[i] ?? 0);
  }
  return out;
}

/** Brought to RMS 1. */
export function normalised(sound: Float64Array): Float64Array {
  let square = 0;
  for (const v of sound) square += v * v;
  const gain = 1 / Math.sqrt(square / sound.length + 1e-30);
  return sound.map((v) => v * gain);
}

/** Multiplies the spectrum by a gain of frequency. */
export const shaped = (sound: Float64Array, gain: (hz: number) => number): Float64Array =>
  shapeSpectrum(sound, RATE_HZ, gain);

export const whiteNoise = (seconds: number, random: Random): Float64Array =>
  make(seconds, () => random.normal());

/** Noise whose power falls as 1/f above 30 Hz. */
export const pinkNoise = (seconds: number, random: Random): Float64Array =>
  normalised(shaped(whiteNoise(seconds, random), (hz) => 1 / Math.sqrt(Math.max(30, hz))));

/** Noise of a band with soft edges. */
export const bandNoise = (
  seconds: number,
  lowHz: number,
  highHz: number,
  random: Random,
): Float64Array =>
  normalised(
    shaped(whiteNoise(seconds, random), (hz) =>
      Math.sqrt(1 / (1 + (lowHz / Math.max(hz, 1)) ** 8) / (1 + (hz / highHz) ** 8)),
    ),
  );

/** Turns of a shaft at each sample. */
export function turnsOf(seconds: number, speed: Speed): Float64Array {
  const turns = new Float64Array(Math.round(seconds * RATE_HZ));
  for (let i = 1; i < turns.length; i++) turns[i] = turns[i - 1]! + speed(i / RATE_HZ) / RATE_HZ;
  return turns;
}

/** A sum of cosines at multiples of a shaft. */
export function harmonics(
  turns: Float64Array,
  orders: readonly (readonly [order: number, amplitude: number])[],
): Float64Array {
  const out = new Float64Array(turns.length);
  for (const [order, a] of orders) {
    for (let i = 0; i < out.length; i++) {
      out[i]! += a * Math.cos(2 * Math.PI * (order * turns[i]! + order));
    }
  }
  return out;
}

export interface Burst {
  readonly seconds: number;
  readonly gain: number;
}

/** Decaying rings at given moments. */
export function bursts(
  seconds: number,
  moments: readonly Burst[],
  hz: number,
  decaySeconds: number,
): Float64Array {
  const out = new Float64Array(Math.round(seconds * RATE_HZ));
  for (const { seconds: start, gain } of moments) {
    const first = Math.round(start * RATE_HZ);
    const length = Math.round(7 * decaySeconds * RATE_HZ);
    for (let i = 0; i < length && first + i < out.length; i++) {
      const t = i / RATE_HZ;
      out[first + i]! += gain * Math.exp(-t / decaySeconds) * Math.sin(2 * Math.PI * hz * t);
    }
  }
  return out;
}

/** Moments of a Poisson process. */
export function randomMoments(seconds: number, perSecond: number, random: Random): Burst[] {
  const moments: Burst[] = [];
  let time = 0;
  for (;;) {
    time -= Math.log(1 - random.uniform()) / perSecond;
    if (time >= seconds) return moments;
    moments.push({ seconds: time, gain: 0.5 + random.uniform() });
  }
}

/** Moments at a share of each turn of a shaft, with a jitter in turns. */
export function turnMoments(
  seconds: number,
  speed: Speed,
  options: { readonly perTurn?: number; readonly jitter?: number; readonly random: Random },
): Burst[] {
  const { perTurn = 1, jitter = 0.02, random } = options;
  const turns = turnsOf(seconds, speed);
  const moments: Burst[] = [];
  let next = 0.3;
  turns.forEach((turn, i) => {
    if (turn * perTurn < next) return;
    const rate = speed(i / RATE_HZ);
    moments.push({
      seconds: i / RATE_HZ + (rate > 0 ? (jitter * random.normal()) / rate : 0),
      gain: 0.7 + 0.6 * random.uniform(),
    });
    next += 1;
  });
  return moments.filter(({ seconds: s }) => s >= 0);
}

/** The sound of a healthy washer: noise, motor harmonics, some mains hum, slight level change per turn. */
export function healthyWasher(
  seconds: number,
  speed: Speed,
  random: Random,
  ratio = 10.7,
): Float64Array {
  const turns = turnsOf(seconds, speed);
  const depth = 0.05 + 0.15 * random.uniform();
  const noise = pinkNoise(seconds, random);
  const motor = harmonics(turns, [
    [ratio, 0.2],
    [2 * ratio, 0.15],
    [3 * ratio, 0.06],
  ]);
  const mains = harmonics(
    make(seconds, (i) => i / RATE_HZ),
    [
      [100, 0.1],
      [200, 0.05],
    ],
  );
  return mix(
    [1, noise.map((v, i) => v * (1 + depth * Math.cos(2 * Math.PI * turns[i]!)))],
    [1, motor],
    [1, mains],
  );
}

/** Rough rolling: noise of 0.5-6 kHz whose level jumps about at 20-150 Hz, deeper once a turn. */
export function grinding(seconds: number, speed: Speed, random: Random): Float64Array {
  const turns = turnsOf(seconds, speed);
  const carrier = bandNoise(seconds, 500, 6000, random);
  const wobble = bandNoise(seconds, 15, 150, random);
  return normalised(
    carrier.map(
      (v, i) => v * Math.exp(0.6 * wobble[i]!) * (1 + 0.5 * Math.cos(2 * Math.PI * turns[i]!)),
    ),
  );
}

export const rattle = (seconds: number, random: Random): Float64Array =>
  normalised(bursts(seconds, randomMoments(seconds, 12, random), 2900, 0.004));

/** A stack of harmonics between the given times, wandering a little. */
export function squeal(
  seconds: number,
  pitchHz: number,
  sounding: readonly (readonly [number, number])[],
): Float64Array {
  const cycles = turnsOf(seconds, (t) => pitchHz * (1 + 0.005 * Math.sin(9 * t)));
  const out = new Float64Array(cycles.length);
  for (const [start, end] of sounding) {
    const last = Math.min(out.length - 1, Math.ceil(end * RATE_HZ) - 1);
    for (let i = Math.ceil(start * RATE_HZ); i <= last; i++) {
      const t = i / RATE_HZ;
      const edge = Math.min(1, (t - start) / 0.03, (end - t) / 0.03);
      const angle = 2 * Math.PI * cycles[i]!;
      out[i] = edge * (Math.sin(angle) + 0.4 * Math.sin(2 * angle) + 0.2 * Math.sin(3 * angle));
    }
  }
  return out;
}

/** What a phone and a room do: echoes, a high-pass, a tilted ear, a gain that follows the level. */
export function throughPhone(
  sound: Float64Array,
  random: Random,
  options: { readonly gainControl?: boolean; readonly reverb?: boolean } = {},
): Float64Array {
  const { gainControl = false, reverb = true } = options;
  const highPass = random.between(80, 200);
  const bumps = Array.from({ length: 4 }, () => ({
    hz: Math.exp(random.between(Math.log(200), Math.log(6500))),
    width: random.between(0.2, 0.7),
    db: random.between(-9, 9),
  }));
  const tilt = random.between(-4, 4);
  const gain = (hz: number): number => {
    const octaves = Math.log2(Math.max(hz, 20) / 1000);
    let db = tilt * octaves * 0.5 - 10 * Math.log10(1 + (highPass / Math.max(hz, 1)) ** 4);
    for (const bump of bumps) {
      const widths = Math.log(Math.max(hz, 1) / bump.hz) / bump.width;
      db += bump.db * Math.exp(-0.5 * widths * widths);
    }
    return 10 ** (db / 20);
  };
  let out = shaped(reverb ? withEcho(sound, random) : sound, gain);
  if (gainControl) out = levelled(out);
  return out;
}

function withEcho(sound: Float64Array, random: Random): Float64Array {
  const out = sound.slice();
  for (let e = 0; e < 25; e++) {
    const delay = Math.round(RATE_HZ * random.between(0.002, 0.35));
    const gain = (random.chance(0.5) ? 0.35 : -0.35) * 10 ** (-delay / RATE_HZ / 0.15);
    for (let i = delay; i < out.length; i++) out[i]! += gain * sound[i - delay]!;
  }
  return out;
}

// Attack 10 ms, release 300 ms, four to one.
function levelled(sound: Float64Array): Float64Array {
  let level = 0.1;
  return sound.map((v) => {
    const size = Math.abs(v);
    level += (size - level) / (RATE_HZ * (size > level ? 0.01 : 0.3));
    return v * (level + 1e-4) ** -0.75;
  });
}

export const seeded = (seed: number): Random => createRandom(seed);
