import { RATE_HZ } from "../sound/rate.js";

/** Automatic gain: falls fast when it gets loud, recovers slowly. */
export interface GainControl {
  readonly attackSeconds: number;
  readonly releaseSeconds: number;
  /** Decibels of change in level that become one decibel. */
  readonly ratio: number;
}

/** Compresses towards the mean level so far, in place; the long-term level stays about the same. */
export function controlGain(samples: Float64Array, control: GainControl): void {
  const attack = Math.exp(-1 / (control.attackSeconds * RATE_HZ));
  const release = Math.exp(-1 / (control.releaseSeconds * RATE_HZ));
  let mean = 0;
  for (let i = 0; i < samples.length; i++) mean += Math.abs(samples[i]!);
  const target = Math.max(1e-6, mean / Math.max(1, samples.length));
  const exponent = 1 / control.ratio - 1;
  let level = target;
  let gain = 1;
  for (let i = 0; i < samples.length; i++) {
    const size = Math.abs(samples[i]!);
    level = size > level ? size + attack * (level - size) : size + release * (level - size);
    // The power function is the costly part: a gain every 32 samples is finer than any attack.
    if (i % 32 === 0) gain = (Math.max(level, 0.03 * target) / target) ** exponent;
    samples[i]! *= gain;
  }
}
