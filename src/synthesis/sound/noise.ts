import type { Random } from "../../foundation/random.js";
import { band } from "./filters.js";
import { setRms } from "./level.js";

/**
 * White noise of unit variance, shape [sampleCount].
 *
 * Method: the four bytes of each xorshift32 word added up, which is close to normal (excess kurtosis
 * -0.3) and far faster than a normal deviate; the word generator starts from `random`.
 */
export function whiteNoise(sampleCount: number, random: Random): Float64Array {
  const out = new Float64Array(sampleCount);
  let word = random.integer(1, 0x7ffffffe);
  const scale = 1 / Math.sqrt((4 * (256 * 256 - 1)) / 12);
  for (let i = 0; i < sampleCount; i++) {
    word ^= word << 13;
    word ^= word >>> 17;
    word ^= word << 5;
    const bytes = (word & 255) + ((word >>> 8) & 255) + ((word >>> 16) & 255) + (word >>> 24);
    out[i] = (bytes - 510) * scale;
  }
  return out;
}

/** White noise between two frequencies (12 dB/octave beyond them), unit RMS, shape [sampleCount]. */
export function bandNoise(
  sampleCount: number,
  random: Random,
  lowHz: number,
  highHz: number,
): Float64Array {
  return setRms(band(whiteNoise(sampleCount, random), lowHz, highHz), 1);
}

/**
 * Noise with a spectrum close to 1/f, unit RMS, shape [sampleCount].
 * Method: the three-pole approximation of Paul Kellet, cited from memory; within about 0.5 dB of -3
 * dB/octave from 50 Hz up at 48 kHz.
 */
export function pinkNoise(sampleCount: number, random: Random): Float64Array {
  const out = whiteNoise(sampleCount, random);
  let a = 0;
  let b = 0;
  let c = 0;
  for (let i = 0; i < sampleCount; i++) {
    const white = out[i]!;
    a = 0.99765 * a + white * 0.099046;
    b = 0.963 * b + white * 0.2965164;
    c = 0.57 * c + white * 1.0526913;
    out[i] = a + b + c + white * 0.1848;
  }
  return setRms(out, 1);
}

/** A slow random curve, smooth over `smoothSteps` values, zero mean and unit RMS. Shape [length]. */
export function slowDrift(length: number, random: Random, smoothSteps: number): Float64Array {
  const knots = Math.max(3, Math.ceil(length / Math.max(1, smoothSteps)) + 3);
  const values = Float64Array.from({ length: knots }, () => random.normal());
  const out = new Float64Array(length);
  for (let i = 0; i < length; i++) {
    const position = i / Math.max(1, smoothSteps);
    const k = Math.floor(position);
    const t = 0.5 - 0.5 * Math.cos(Math.PI * (position - k));
    out[i] = values[k]! * (1 - t) + values[k + 1]! * t;
  }
  return out;
}
