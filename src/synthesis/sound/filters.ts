import { RATE_HZ } from "./rate.js";

/** A second-order filter section, normalised so that a0 = 1. */
export interface Biquad {
  readonly b0: number;
  readonly b1: number;
  readonly b2: number;
  readonly a1: number;
  readonly a2: number;
}

// Bristow-Johnson's bilinear-transform sections (W3C Audio EQ Cookbook).
function section(hz: number, q: number): { cosine: number; alpha: number } {
  const w = (2 * Math.PI * Math.min(hz, 0.49 * RATE_HZ)) / RATE_HZ;
  return { cosine: Math.cos(w), alpha: Math.sin(w) / (2 * q) };
}

const normalised = (b: readonly number[], a: readonly number[]): Biquad => ({
  b0: b[0]! / a[0]!,
  b1: b[1]! / a[0]!,
  b2: b[2]! / a[0]!,
  a1: a[1]! / a[0]!,
  a2: a[2]! / a[0]!,
});

/** Second-order high pass at 48 kHz. */
export function highPass(hz: number, q = Math.SQRT1_2): Biquad {
  const { cosine: c, alpha } = section(hz, q);
  return normalised([(1 + c) / 2, -1 - c, (1 + c) / 2], [1 + alpha, -2 * c, 1 - alpha]);
}

/** Second-order low pass at 48 kHz. */
export function lowPass(hz: number, q = Math.SQRT1_2): Biquad {
  const { cosine: c, alpha } = section(hz, q);
  return normalised([(1 - c) / 2, 1 - c, (1 - c) / 2], [1 + alpha, -2 * c, 1 - alpha]);
}

/** Band pass with unit gain in the middle. */
export function bandPass(hz: number, q: number): Biquad {
  const { cosine: c, alpha } = section(hz, q);
  return normalised([alpha, 0, -alpha], [1 + alpha, -2 * c, 1 - alpha]);
}

/** Bell of `gainDb` around `hz`. */
export function bell(hz: number, q: number, gainDb: number): Biquad {
  const { cosine: c, alpha } = section(hz, q);
  const root = 10 ** (gainDb / 40);
  return normalised(
    [1 + alpha * root, -2 * c, 1 - alpha * root],
    [1 + alpha / root, -2 * c, 1 - alpha / root],
  );
}

/** First-order high pass, as a section. */
export function gentleHighPass(hz: number): Biquad {
  const k = Math.tan((Math.PI * hz) / RATE_HZ);
  return { b0: 1 / (1 + k), b1: -1 / (1 + k), b2: 0, a1: (k - 1) / (k + 1), a2: 0 };
}

/** Runs a section over the samples in place. */
export function applyBiquad(samples: Float64Array, filter: Biquad): Float64Array {
  const { b0, b1, b2, a1, a2 } = filter;
  let s1 = 0;
  let s2 = 0;
  for (let i = 0; i < samples.length; i++) {
    const x = samples[i]! + 1e-30; // keeps the state out of the slow denormal range
    const y = b0 * x + s1;
    s1 = b1 * x - a1 * y + s2;
    s2 = b2 * x - a2 * y;
    samples[i] = y;
  }
  return samples;
}

/** High pass then low pass, in place. */
export function band(samples: Float64Array, lowHz: number, highHz: number): Float64Array {
  applyBiquad(samples, highPass(lowHz));
  return highHz < 0.48 * RATE_HZ ? applyBiquad(samples, lowPass(highHz)) : samples;
}
