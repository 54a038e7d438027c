import type { Numbers } from "../foundation/statistics.js";

// Modified Bessel function I0 by its power series, for the Kaiser window.
function besselI0(x: number): number {
  let sum = 1;
  let term = 1;
  for (let k = 1; k < 60 && term > 1e-16 * sum; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}

/**
 * Low-pass filter taps: Kaiser-windowed sinc with unit gain at 0 Hz.
 *
 * @param cutoff the -6 dB frequency as a share of the sample rate, 0 to 0.5
 * @param halfLength taps on either side of the middle one
 * @param beta Kaiser shape; 8 gives about 80 dB in the stop band
 */
export function lowPassTaps(cutoff: number, halfLength: number, beta = 8): Float64Array {
  const taps = new Float64Array(2 * halfLength + 1);
  let sum = 0;
  for (let i = -halfLength; i <= halfLength; i++) {
    const x = 2 * cutoff * i;
    const sinc = i === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
    const kaiser = besselI0(beta * Math.sqrt(1 - (i / (halfLength + 1)) ** 2)) / besselI0(beta);
    taps[i + halfLength] = sinc * kaiser;
    sum += taps[i + halfLength]!;
  }
  for (let i = 0; i < taps.length; i++) taps[i]! /= sum;
  return taps;
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}

// One set of taps for each of the `up` phases between two input samples, stored tap by tap.
function polyphaseTaps(up: number, down: number, zeroCrossings: number): Float64Array[] {
  const ratio = Math.min(1, up / down);
  const cutoff = (0.5 * ratio * 0.92) / up;
  const halfLength = Math.ceil((zeroCrossings / ratio) * up);
  const taps = lowPassTaps(cutoff, halfLength);
  const perPhase = Math.ceil(taps.length / up);
  return Array.from({ length: up }, (_, phase) => {
    const set = new Float64Array(perPhase);
    for (let j = 0; j < perPhase; j++) set[j] = (taps[phase + j * up] ?? 0) * up;
    return set;
  });
}

function weighted(
  taps: Float64Array,
  x: Float64Array,
  newest: number,
  first: number,
  last: number,
): number {
  let sum = 0;
  for (let j = first; j <= last; j++) sum += taps[j]! * x[newest - j]!;
  return sum;
}

// The same inside the signal for taps that read alike from both ends: two samples share one product.
function weightedEvenly(taps: Float64Array, x: Float64Array, newest: number): number {
  const oldest = newest - taps.length + 1;
  const half = (taps.length - 1) / 2;
  let sum = taps[half]! * x[newest - half]!;
  for (let j = 0; j < half; j++) sum += taps[j]! * (x[newest - j]! + x[oldest + j]!);
  return sum;
}

/**
 * Changes the sample rate by a rational factor with a polyphase Kaiser-windowed sinc.
 *
 * Pass band to 0.42 of the lower rate within 0.1 dB, alias rejection about 80 dB, no delay. Both rates
 * must be whole numbers of hertz. Shape [ceil(n * to / from)].
 */
export function resample(samples: Numbers, fromHz: number, toHz: number): Float64Array {
  // One kind of array keeps the inner loop fast whatever the caller holds.
  const x = Float64Array.from(samples);
  if (fromHz === toHz) return x;
  const divisor = greatestCommonDivisor(fromHz, toHz);
  const up = toHz / divisor;
  const down = fromHz / divisor;
  const phases = polyphaseTaps(up, down, 16);
  const perPhase = phases[0]!.length;
  const centre = Math.ceil((16 / Math.min(1, up / down)) * up);
  const n = x.length;
  const out = new Float64Array(Math.ceil((n * up) / down));
  for (let m = 0; m < out.length; m++) {
    // y[m] = Σ_i h[m*down + centre - i*up] x[i]
    const position = m * down + centre;
    const phase = position % up;
    const newest = (position - phase) / up;
    if (up === 1 && newest < n && newest >= perPhase - 1) {
      out[m] = weightedEvenly(phases[0]!, x, newest);
      continue;
    }
    const first = Math.max(0, newest - n + 1);
    const last = Math.min(perPhase - 1, newest);
    out[m] = weighted(phases[phase]!, x, newest, first, last);
  }
  return out;
}

// Catmull-Rom polynomial between b (t = 0) and c (t = 1).
const cubic = (a: number, b: number, c: number, d: number, t: number): number =>
  b + 0.5 * t * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)));

/**
 * Weights of the four samples round each position, as `cubicAt` weighs them: for several signals that are read
 * at the same positions. Shape [n][4]; all four samples must lie inside the signal.
 */
export function cubicWeights(positions: Float64Array): Float64Array {
  const out = new Float64Array(4 * positions.length);
  for (let m = 0; m < positions.length; m++) {
    const t = positions[m]! - Math.floor(positions[m]!);
    out[4 * m] = 0.5 * t * (t * (2 - t) - 1);
    out[4 * m + 1] = 1 + 0.5 * t * t * (3 * t - 5);
    out[4 * m + 2] = 0.5 * t * (1 + t * (4 - 3 * t));
    out[4 * m + 3] = 0.5 * t * t * (t - 1);
  }
  return out;
}

/**
 * Value of an evenly sampled signal between samples by cubic (Catmull-Rom) interpolation.
 * Error below -60 dB for content under 0.1 of the sample rate; positions outside are clamped.
 */
export function cubicAt(samples: Float64Array, position: number): number {
  const last = samples.length - 1;
  const floor = Math.floor(position);
  if (floor >= 1 && floor + 2 <= last) {
    const a = samples[floor - 1]!;
    return cubic(a, samples[floor]!, samples[floor + 1]!, samples[floor + 2]!, position - floor);
  }
  const i = Math.min(last, Math.max(0, floor));
  const t = Math.min(1, Math.max(0, position - i));
  const b = samples[i]!;
  const a = samples[i > 0 ? i - 1 : 0]!;
  const c = samples[i < last ? i + 1 : last]!;
  const d = samples[i + 2 <= last ? i + 2 : last]!;
  return cubic(a, b, c, d, t);
}
