import { createRandom, type Random } from "../../src/foundation/random.js";
import { fftPlan, nextPowerOfTwo } from "../../src/signal/fft-plan.js";
import { shapeSpectrum as shapeAtRate } from "../shape-spectrum.js";

/** Sound of a turning drum and its drive, for trying the speed estimate; not a model of any washer. */
export interface SpinSound {
  readonly seed: number;
  readonly seconds: number;
  /** Drum speed in Hz at a time; 0 stands still. */
  readonly drumHzAt: (seconds: number) => number;
  /** Motor turns per drum turn; tones at multiples of the motor, or of `tonePerDrum` when given. */
  readonly ratio: number;
  /** Direct drive: tones at these orders of the drum in place of motor harmonics. */
  readonly toneOrders?: readonly number[];
  /** Level of the tones over the noise in 100-3500 Hz, dB; null for none. */
  readonly toneDb: number | null;
  /** Depth of the modulation of the noise at 1, 2, 3 ... per drum turn. */
  readonly depths: readonly number[];
  readonly lineHz?: 50 | 60;
  /** Level of the mains comb over the noise, dB; null for none. */
  readonly humDb?: number | null;
  readonly highPassHz?: number;
  /** Room tail, seconds for 60 dB; 0 for none. */
  readonly roomSeconds?: number;
  /** Automatic gain of the phone. */
  readonly gainControl?: boolean;
  /** Random clicks per second. */
  readonly clicks?: number;
  /** Level of steady noise that nothing modulates over the modulated noise, dB; null for none. */
  readonly steadyDb?: number | null;
  /** Extra modulation lines: [order of the drum, depth]. */
  readonly otherLines?: readonly (readonly [order: number, depth: number])[];
}

export const RATE_HZ = 16_000;

export function whiteNoise(count: number, random: Random): Float64Array {
  const out = new Float64Array(count);
  for (let i = 0; i < count; i++) out[i] = random.normal();
  return out;
}

/** Multiplies the spectrum by a real gain of frequency: a zero-phase filter. */
export const shapeSpectrum = (samples: Float64Array, gain: (hz: number) => number): Float64Array =>
  shapeAtRate(samples, RATE_HZ, gain);

function resonances(random: Random): (hz: number) => number {
  const modes = Array.from({ length: 12 }, () => ({
    hz: 60 * 80 ** random.uniform(),
    damping: random.between(0.02, 0.1),
    gain: random.between(0.3, 3),
  }));
  const tilt = random.between(-5, -2);
  return (hz) => {
    let sum = 0.3;
    for (const mode of modes) {
      const x = Math.max(1, hz) / mode.hz;
      const off = 1 - x * x;
      const damped = 2 * mode.damping * x;
      sum += mode.gain / Math.sqrt(off * off + damped * damped) / (1 + x * x) / 4;
    }
    return sum * (Math.max(50, hz) / 500) ** (tilt / 6);
  };
}

const rms = (x: Float64Array): number => Math.sqrt(x.reduce((s, v) => s + v * v, 0) / x.length);

function addScaled(to: Float64Array, from: Float64Array, gain: number): void {
  for (let i = 0; i < to.length; i++) to[i]! += gain * from[i]!;
}

function turnsOf(options: SpinSound, count: number): { turns: Float64Array; hz: Float64Array } {
  const turns = new Float64Array(count);
  const hz = new Float64Array(count);
  let sum = 0;
  for (let i = 0; i < count; i++) {
    hz[i] = options.drumHzAt(i / RATE_HZ);
    sum += hz[i]! / RATE_HZ;
    turns[i] = sum;
  }
  return { turns, hz };
}

function tonesOf(options: SpinSound, turns: Float64Array, random: Random): Float64Array {
  const out = new Float64Array(turns.length);
  const orders = options.toneOrders ?? Array.from({ length: 9 }, (_, k) => (k + 1) * options.ratio);
  const kept = orders.filter((_, i) => random.chance(i < 3 ? 0.75 : 0.6));
  for (const order of kept.length > 0 ? kept : orders.slice(0, 2)) {
    const amplitude = random.between(0.2, 1) / Math.sqrt(1 + order / options.ratio);
    const phase = random.uniform();
    for (let i = 0; i < out.length; i++) {
      out[i]! += amplitude * Math.sin(2 * Math.PI * (order * turns[i]! + phase));
    }
  }
  return out;
}

function modulatedNoise(options: SpinSound, turns: Float64Array, random: Random): Float64Array {
  const out = whiteNoise(turns.length, random);
  const lines: [number, number, number][] = options.depths.map((d, h) => [
    h + 1,
    d,
    random.uniform(),
  ]);
  for (const [order, depth] of options.otherLines ?? []) {
    lines.push([order, depth, random.uniform()]);
  }
  for (let i = 0; i < out.length; i++) {
    let gain = 1;
    for (const [order, depth, phase] of lines) {
      gain += depth * Math.cos(2 * Math.PI * (order * turns[i]! + phase));
    }
    out[i]! *= Math.max(0, gain);
  }
  return out;
}

function humOf(lineHz: number, count: number, random: Random): Float64Array {
  const out = new Float64Array(count);
  const drift = random.between(-0.08, 0.08);
  for (let k = 1; k <= 12; k++) {
    const amplitude = (k % 2 === 0 ? 1 : 0.15) * random.uniform() ** (k / 4);
    const phase = random.uniform();
    for (let i = 0; i < count; i++) {
      const t = i / RATE_HZ;
      out[i]! += amplitude * Math.sin(2 * Math.PI * (k * (lineHz + drift) * t + phase));
    }
  }
  return out;
}

function addRoom(samples: Float64Array, seconds: number, random: Random): Float64Array {
  const length = Math.round(seconds * RATE_HZ);
  const size = nextPowerOfTwo(samples.length + length);
  const response = new Float64Array(size);
  response[0] = 1;
  for (let i = 40; i < length; i++) {
    response[i] = 0.03 * random.normal() * 10 ** ((-3 * i) / length);
  }
  const a = new Float64Array(2 * size);
  const b = new Float64Array(2 * size);
  const padded = new Float64Array(2 * size);
  for (let i = 0; i < samples.length; i++) padded[2 * i] = samples[i]!;
  fftPlan(size).forward(padded, a);
  padded.fill(0);
  for (let i = 0; i < size; i++) padded[2 * i] = response[i]!;
  fftPlan(size).forward(padded, b);
  for (let k = 0; k < size; k++) {
    const re = a[2 * k]! * b[2 * k]! - a[2 * k + 1]! * b[2 * k + 1]!;
    const im = a[2 * k]! * b[2 * k + 1]! + a[2 * k + 1]! * b[2 * k]!;
    padded[2 * k] = re;
    padded[2 * k + 1] = im;
  }
  fftPlan(size).inverse(padded, a);
  return Float64Array.from({ length: samples.length }, (_, i) => a[2 * i]!);
}

function levelGain(samples: Float64Array): void {
  let level = rms(samples);
  for (let i = 0; i < samples.length; i++) {
    const now = Math.abs(samples[i]!);
    level += (now > level ? 1 / (0.02 * RATE_HZ) : 1 / (0.5 * RATE_HZ)) * (now - level);
    samples[i]! *= 0.1 / (level + 1e-6);
  }
}

function addClicks(sound: Float64Array, count: number, level: number, random: Random): void {
  for (let c = 0; c < count; c++) {
    const at = random.integer(0, sound.length - 400);
    const size = level * random.between(2, 12);
    for (let i = 0; i < 300; i++) sound[at + i]! += size * random.normal() * Math.exp(-i / 40);
  }
}

/** One channel at 16 kHz, about 0.1 RMS. The same seed gives the same sound. */
export function spinSound(options: SpinSound): Float64Array {
  const random = createRandom(options.seed);
  const count = Math.round(options.seconds * RATE_HZ);
  const { turns, hz } = turnsOf(options, count);
  const noise = shapeSpectrum(
    modulatedNoise(options, turns, random.fork("noise")),
    resonances(random.fork("path")),
  );
  const noiseLevel = rms(shapeSpectrum(noise, (f) => (f > 100 && f < 3500 ? 1 : 0)));
  let sound: Float64Array = noise;
  if (options.toneDb !== null) {
    const tones = shapeSpectrum(
      tonesOf(options, turns, random.fork("tones")),
      resonances(random.fork("tone path")),
    );
    addScaled(sound, tones, (noiseLevel / rms(tones)) * 10 ** (options.toneDb / 20));
  }
  for (let i = 0; i < count; i++) sound[i]! *= Math.max(0.2, Math.min(1, hz[i]! / 4));
  if (options.steadyDb !== null && options.steadyDb !== undefined) {
    const steady = shapeSpectrum(
      whiteNoise(count, random.fork("steady")),
      resonances(random.fork("steady path")),
    );
    addScaled(sound, steady, (noiseLevel / rms(steady)) * 10 ** (options.steadyDb / 20));
  }
  if (options.humDb !== null && options.humDb !== undefined) {
    const hum = humOf(options.lineHz ?? 50, count, random.fork("hum"));
    addScaled(sound, hum, (noiseLevel / rms(hum)) * 10 ** (options.humDb / 20));
  }
  addClicks(sound, (options.clicks ?? 0) * options.seconds, noiseLevel, random.fork("clicks"));
  if (options.roomSeconds) sound = addRoom(sound, options.roomSeconds, random.fork("room"));
  const corner = options.highPassHz ?? 100;
  sound = shapeSpectrum(sound, (f) => ((f * f) / (f * f + corner * corner)) ** 2);
  addScaled(sound, whiteNoise(count, random.fork("floor")), 0.003 * rms(sound));
  if (options.gainControl) levelGain(sound);
  const gain = 0.1 / rms(sound);
  for (let i = 0; i < count; i++) sound[i]! *= gain;
  return sound;
}
