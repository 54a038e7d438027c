import { createRandom, type Random } from "../../src/foundation/random.js";
import { RATE_HZ, shapeSpectrum, whiteNoise } from "./spin-sound.js";

/** Sounds that are no turning drum. */
export const OTHER_SOUNDS = [
  "white",
  "pink",
  "rain",
  "speech",
  "clock",
  "music",
  "hum",
  "pump",
  "fan",
  "knocks",
] as const;
export type OtherSound = (typeof OTHER_SOUNDS)[number];

function addBurst(out: Float64Array, at: number, seconds: number, gain: number, r: Random): void {
  const count = Math.round(seconds * RATE_HZ);
  for (let i = 0; i < count && at + i < out.length; i++) {
    out[at + i]! += gain * r.normal() * Math.exp((-5 * i) / count);
  }
}

function addTone(
  out: Float64Array,
  from: number,
  to: number,
  hzAt: (share: number) => number,
  amplitudes: readonly number[],
): void {
  let phase = 0;
  for (let i = from; i < Math.min(to, out.length); i++) {
    const share = (i - from) / (to - from);
    phase += (2 * Math.PI * hzAt(share)) / RATE_HZ;
    const edge = Math.min(1, share * 20, (1 - share) * 8);
    for (let k = 0; k < amplitudes.length; k++) {
      out[i]! += edge * amplitudes[k]! * Math.sin((k + 1) * phase);
    }
  }
}

function speechLike(count: number, r: Random): Float64Array {
  const out = new Float64Array(count);
  let at = 0;
  const pitch = r.between(95, 220);
  while (at < count) {
    const length = Math.round(r.between(0.09, 0.3) * RATE_HZ);
    const start = pitch * r.between(0.85, 1.2);
    const end = start * r.between(0.8, 1.15);
    if (r.chance(0.75)) {
      const tilt = r.between(0.6, 0.9);
      const amplitudes = Array.from({ length: 20 }, (_, k) => tilt ** k * r.between(0.3, 1));
      addTone(out, at, at + length, (s) => start + s * (end - start), amplitudes);
    } else addBurst(out, at, length / RATE_HZ, 0.5, r);
    at += length + (r.chance(0.15) ? Math.round(r.between(0.2, 0.7) * RATE_HZ) : 0);
  }
  return out;
}

function musicLike(count: number, r: Random): Float64Array {
  const out = new Float64Array(count);
  const beat = Math.round((60 / r.between(80, 140) / 2) * RATE_HZ);
  const scale = [0, 2, 4, 5, 7, 9, 11, 12];
  const root = r.between(90, 180);
  for (let at = 0; at < count; at += beat) {
    for (let voice = 0; voice < 2; voice++) {
      const hz = root * 2 ** (r.pick(scale) / 12 + voice);
      const amplitudes = Array.from({ length: 8 }, (_, k) => r.uniform() / (k + 1));
      addTone(out, at, at + beat * r.integer(1, 2), () => hz, amplitudes);
    }
    addBurst(out, at, 0.08, r.between(0.2, 1), r);
  }
  return out;
}

function rainLike(count: number, r: Random): Float64Array {
  const out = shapeSpectrum(whiteNoise(count, r), (f) => Math.max(20, f) ** -0.3);
  for (let n = 0; n < (count / RATE_HZ) * 40; n++) {
    addBurst(out, r.integer(0, count - 1), 0.01, r.between(1, 6), r);
  }
  return out;
}

function steadyTones(count: number, base: number, r: Random): Float64Array {
  const out = whiteNoise(count, r);
  const amplitudes = Array.from({ length: 12 }, (_, k) => 0.5 * r.uniform() ** (k / 3));
  addTone(out, 0, count, () => base, amplitudes);
  return out;
}

function ticks(count: number, periodSeconds: number, jitter: number, r: Random): Float64Array {
  const out = whiteNoise(count, r).map((v) => 0.02 * v);
  for (let t = 0.3; t < count / RATE_HZ - 0.1; t += periodSeconds) {
    addBurst(out, Math.round((t + jitter * r.normal()) * RATE_HZ), 0.015, r.between(0.7, 1), r);
  }
  return out;
}

/** A clip at 16 kHz of something that is no turning drum. */
export function otherSound(kind: OtherSound, seconds: number, seed: number): Float64Array {
  const r = createRandom(seed).fork(kind);
  const count = Math.round(seconds * RATE_HZ);
  switch (kind) {
    case "white":
      return whiteNoise(count, r);
    case "pink":
      return shapeSpectrum(whiteNoise(count, r), (f) => Math.max(20, f) ** -0.5);
    case "rain":
      return rainLike(count, r);
    case "speech":
      return speechLike(count, r);
    case "clock":
      return ticks(count, r.pick([1, 0.5, 0.2]), 0.0005, r);
    case "music":
      return musicLike(count, r);
    case "hum":
      return steadyTones(count, r.pick([50, 60]) * r.between(0.999, 1.001), r);
    case "pump": {
      const line = r.pick([50, 60]);
      const hum = steadyTones(count, line, r);
      const other = steadyTones(count, line * r.pick([1, 2]), r);
      return hum.map(
        (v, i) => v * (1 + 0.2 * Math.sin((2 * Math.PI * line * i) / RATE_HZ)) + other[i]!,
      );
    }
    case "fan":
      return steadyTones(count, r.between(180, 500), r);
    case "knocks":
      return ticks(count, r.between(0.3, 0.9), 0.12, r).map((v, i) => v + 0.05 * Math.sin(i * 0.7));
  }
}
