import { CONTROL_HOP, CONTROL_HZ } from "./rate.js";

/** Multiplies samples in place by a control curve, linear between its values. */
export function multiplyByControl(samples: Float64Array, control: Float64Array): Float64Array {
  const last = control.length - 1;
  for (let k = 0; k * CONTROL_HOP < samples.length; k++) {
    const from = control[Math.min(k, last)]!;
    const step = (control[Math.min(k + 1, last)]! - from) / CONTROL_HOP;
    const start = k * CONTROL_HOP;
    const end = Math.min(samples.length, start + CONTROL_HOP);
    for (let i = start; i < end; i++) samples[i]! *= from + step * (i - start);
  }
  return samples;
}

/** Value of a control curve at a sample. */
export function controlAt(control: Float64Array, sample: number): number {
  const position = sample / CONTROL_HOP;
  const k = Math.min(control.length - 1, Math.max(0, Math.floor(position)));
  const next = Math.min(control.length - 1, k + 1);
  return control[k]! + (position - k) * (control[next]! - control[k]!);
}

/** A new curve from an old one, value by value. */
export const mapControl = (
  control: Float64Array,
  f: (value: number, seconds: number) => number,
): Float64Array => control.map((value, k) => f(value, k / CONTROL_HZ));

/** (|speed| / reference)^exponent: how a source grows with the speed of its shaft. */
export const growth = (hz: Float64Array, referenceHz: number, exponent: number): Float64Array =>
  hz.map((value) => (Math.abs(value) / referenceHz) ** exponent);

/** Largest magnitude of a curve. */
export function largest(control: Float64Array): number {
  let top = 0;
  for (let i = 0; i < control.length; i++) top = Math.max(top, Math.abs(control[i]!));
  return top;
}

/** Running mean over 2 halfWidth + 1 values, shortened at the ends. */
export function smooth(control: Float64Array, halfWidth: number): Float64Array {
  const sums = new Float64Array(control.length + 1);
  for (let i = 0; i < control.length; i++) sums[i + 1] = sums[i]! + control[i]!;
  return control.map((_, i) => {
    const low = Math.max(0, i - halfWidth);
    const high = Math.min(control.length, i + halfWidth + 1);
    return (sums[high]! - sums[low]!) / (high - low);
  });
}

/** A bump of height 1 over `value`: 1 / (1 + ((value - centre) / halfWidth)^4). */
export const bump = (value: number, centre: number, halfWidth: number): number =>
  1 / (1 + ((value - centre) / halfWidth) ** 4);
