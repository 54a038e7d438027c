import type { ListeningContext } from "../context.js";
import { FRAME_RATE_HZ, soundFrames } from "../event/sound-frames.js";
import { quantiles, robustDeviation, variance } from "../../foundation/statistics.js";

/** Rate of the loudness track: 20 ms steps. */
export const TRACK_RATE_HZ = 50;
const FRAMES_PER_STEP = FRAME_RATE_HZ / TRACK_RATE_HZ;

/** How loud the clip is over time, from the octaves in which its changes stand out of the noise. */
export interface LoudnessTrack {
  /** Shape [count], dB with an arbitrary zero. */
  readonly levelDb: Float64Array;
  /** Random deviation of one step, dB. */
  readonly jitterDb: number;
  /** Shape [count]: 1 where speech or handling sounds. */
  readonly excluded: Uint8Array;
}

function octaveLevel(power: Float64Array, count: number): Float64Array {
  const level = new Float64Array(count);
  for (let j = 0; j < count; j++) {
    let sum = 0;
    for (let k = 0; k < FRAMES_PER_STEP; k++) sum += power[j * FRAMES_PER_STEP + k]!;
    level[j] = 10 * Math.log10(sum / FRAMES_PER_STEP + 1e-14);
  }
  return level;
}

// Three steps are averaged: 60 ms is short against a stroke and evens out the noise.
function smooth(values: Float64Array): Float64Array {
  const last = values.length - 1;
  return values.map(
    (v, i) => (v + values[Math.max(0, i - 1)]! + values[Math.min(last, i + 1)]!) / 3,
  );
}

// Robust deviation from one step to the next before smoothing over three.
function stepJitter(level: Float64Array): number {
  const steps = new Float64Array(Math.max(1, level.length - 1));
  for (let i = 0; i + 1 < level.length; i++) steps[i] = level[i + 1]! - level[i]!;
  return robustDeviation(steps) / Math.SQRT2 / Math.sqrt(3);
}

// Slow change against random change: an octave in which the strokes do not sound gets no say.
function weightOf(level: Float64Array, jitter: number): number {
  const [low, high] = quantiles(level, [0.02, 0.98]) as [number, number];
  const limited = level.map((v) => Math.min(high, Math.max(low, v)));
  return Math.max(0, variance(limited) / (jitter * jitter + 1e-6) - 1);
}

function build(context: ListeningContext): LoudnessTrack {
  const frames = soundFrames(context);
  const count = Math.floor(frames.count / FRAMES_PER_STEP);
  const levelDb = new Float64Array(count);
  let total = 0;
  let spread = 0;
  for (const { power } of frames.octaves) {
    const raw = octaveLevel(power, count);
    const jitter = stepJitter(raw);
    const level = smooth(raw);
    // The square root keeps one octave from deciding alone.
    const weight = Math.sqrt(weightOf(level, jitter)) / Math.max(0.2, jitter);
    total += weight;
    spread += (weight * jitter) ** 2;
    for (let i = 0; i < count; i++) levelDb[i]! += weight * level[i]!;
  }
  for (let i = 0; i < count && total > 0; i++) levelDb[i]! /= total;
  const excluded = new Uint8Array(count);
  for (let i = 0; i < count; i++) excluded[i] = frames.excluded[i * FRAMES_PER_STEP]!;
  return { levelDb, jitterDb: Math.sqrt(spread) / Math.max(1e-9, total), excluded };
}

const known = new WeakMap<ListeningContext, LoudnessTrack>();

/** The clip's loudness track, worked out once per context. */
export function loudnessTrack(context: ListeningContext): LoudnessTrack {
  let track = known.get(context);
  if (!track) {
    track = build(context);
    known.set(context, track);
  }
  return track;
}
