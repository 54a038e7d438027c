import { median, robustDeviation } from "../../foundation/statistics.js";
import type { Interval } from "../recording.js";
import type { Hertz } from "../../foundation/units.js";

/** Samples that are no sound. */
export interface Damage {
  /** NaN and infinite samples. */
  readonly notNumbers: number;
  /** Runs of exact zeros between sounds: a machine that pauses dies away first, and rooms are never so still. */
  readonly dropouts: readonly Interval[];
  /** Single samples beyond twice full scale, with what lies beside them far below. */
  readonly spikes: readonly Interval[];
  /** Times at which the mean of the wave jumps and stays. */
  readonly offsetJumps: readonly number[];
}

const SHORTEST_DROPOUT_SECONDS = 0.005;

/** The samples with NaN and infinite values set to zero (the same array when there are none). */
export function finiteSamples(samples: Float32Array): {
  samples: Float32Array;
  notNumbers: number;
} {
  // One sum tells whether any sample is not finite.
  let sum = 0;
  for (let i = 0; i < samples.length; i++) sum += samples[i]!;
  if (Number.isFinite(sum)) return { samples, notNumbers: 0 };
  let notNumbers = 0;
  for (let i = 0; i < samples.length; i++) if (!Number.isFinite(samples[i]!)) notNumbers++;
  return { samples: samples.map((x) => (Number.isFinite(x) ? x : 0)), notNumbers };
}

function rmsBetween(samples: Float32Array, from: number, to: number): number {
  let sum = 0;
  const end = Math.min(samples.length, to);
  for (let i = Math.max(0, from); i < end; i++) {
    const x = samples[i]!;
    sum += x * x;
  }
  return Math.sqrt(sum / Math.max(1, to - from));
}

function findDropouts(samples: Float32Array, sampleRateHz: Hertz, usual: number): Interval[] {
  const found: Interval[] = [];
  const shortest = SHORTEST_DROPOUT_SECONDS * sampleRateHz;
  const beside = Math.round(0.02 * sampleRateHz);
  // A run long enough to count covers one of these places.
  const stride = Math.max(1, Math.floor(shortest));
  for (let i = stride; i < samples.length; i += stride) {
    if (samples[i] !== 0) continue;
    let start = i;
    while (start > 0 && samples[start - 1] === 0) start--;
    let end = i + 1;
    while (end < samples.length && samples[end] === 0) end++;
    i = end;
    const length = end - start;
    if (length < shortest) continue;
    if (start < beside || end + beside > samples.length) continue;
    const loud =
      rmsBetween(samples, start - beside, start) > 0.2 * usual &&
      rmsBetween(samples, end, end + beside) > 0.2 * usual;
    if (loud) found.push({ startSeconds: start / sampleRateHz, endSeconds: end / sampleRateHz });
  }
  return found;
}

// No sound through a microphone and its filter rises and falls back within one sample so far up.
function findSpikes(samples: Float32Array, sampleRateHz: Hertz): Interval[] {
  const found: Interval[] = [];
  for (let i = 1; i + 1 < samples.length; i++) {
    const height = Math.abs(samples[i]!);
    if (height <= 2) continue;
    if (4 * Math.max(Math.abs(samples[i - 1]!), Math.abs(samples[i + 1]!)) > height) continue;
    found.push({ startSeconds: i / sampleRateHz, endSeconds: (i + 1) / sampleRateHz });
  }
  return found;
}

function findOffsetJumps(samples: Float32Array, sampleRateHz: Hertz, usual: number): number[] {
  const width = Math.round(0.1 * sampleRateHz);
  const means = new Float64Array(Math.floor(samples.length / width));
  for (let b = 0; b < means.length; b++) {
    let sum = 0;
    for (let i = 0; i < width; i++) sum += samples[b * width + i]!;
    means[b] = sum / width;
  }
  const jumps: number[] = [];
  for (let b = 5; b + 5 <= means.length; b++) {
    const before = means.subarray(b - 5, b);
    const after = means.subarray(b, b + 5);
    const step = Math.abs(median(after) - median(before));
    const spread = robustDeviation(before) + robustDeviation(after);
    if (step > 0.02 && step > 0.3 * usual && step > 6 * spread) {
      jumps.push((b * width) / sampleRateHz);
      b += 5;
    }
  }
  return jumps;
}

/** Looks for dropouts, spikes and jumps of the mean in finite samples. */
export function findDamage(samples: Float32Array, sampleRateHz: Hertz, notNumbers: number): Damage {
  const usual = rmsBetween(samples, 0, samples.length);
  return {
    notNumbers,
    dropouts: findDropouts(samples, sampleRateHz, usual),
    spikes: findSpikes(samples, sampleRateHz),
    offsetJumps: findOffsetJumps(samples, sampleRateHz, usual),
  };
}
