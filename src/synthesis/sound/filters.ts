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

/** Two sections one after the other in one pass, which the processor overlaps. In place. */
function applyTwo(samples: Float64Array, first: Biquad, second: Biquad): Float64Array {
  const { b0, b1, b2, a1, a2 } = first;
  const { b0: c0, b1: c1, b2: c2, a1: d1, a2: d2 } = second;
  let s1 = 0;
  let s2 = 0;
  let t1 = 0;
  let t2 = 0;
  for (let i = 0; i < samples.length; i++) {
    const x = samples[i]! + 1e-30;
    const y = b0 * x + s1;
    s1 = b1 * x - a1 * y + s2;
    s2 = b2 * x - a2 * y;
    const z = c0 * y + t1;
    t1 = c1 * y - d1 * z + t2;
    t2 = c2 * y - d2 * z;
    samples[i] = z;
  }
  return samples;
}

/** A chain of sections, in place. */
export function applyChain(samples: Float64Array, filters: readonly Biquad[]): Float64Array {
  let i = 0;
  for (; i + 1 < filters.length; i += 2) applyTwo(samples, filters[i]!, filters[i + 1]!);
  return i < filters.length ? applyBiquad(samples, filters[i]!) : samples;
}

/** High pass then low pass, in place. */
export const band = (samples: Float64Array, lowHz: number, highHz: number): Float64Array =>
  applyTwo(samples, highPass(lowHz), lowPass(highHz));
