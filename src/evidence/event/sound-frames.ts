import type { BandName, ListeningContext } from "../context.js";
import { BANDS } from "../context.js";
import type { BandEnvelope } from "../../signal/band-envelope.js";
import { runningMedian } from "../../signal/running-median.js";
import { median, quantile } from "../../foundation/statistics.js";

/** Rate of the frames in which sharp events are looked for: 4 ms each. */
export const FRAME_RATE_HZ = 250;

/** One octave's power, frame by frame, and what surrounds each frame. */
export interface OctaveFrames {
  readonly band: BandName;
  readonly centreHz: number;
  /** Shape [count], mean squared envelope of each frame. */
  readonly power: Float64Array;
  /** Shape [count], median power before each frame and after it, over 0.4 s or 80 ms: the higher. */
  readonly before: Float64Array;
  readonly after: Float64Array;
}

/** The clip in 4 ms frames. */
export interface SoundFrames {
  readonly count: number;
  /** The octaves that the recording carries, low to high. */
  readonly octaves: readonly OctaveFrames[];
  /** Shape [count]: 1 where speech or handling sounds, so that events there say nothing. */
  readonly excluded: Uint8Array;
}

const OCTAVES = ["low-blow", "octave-500", "octave-1k", "octave-2k", "octave-4k"] as const;
/** Frames between a blow and the windows that say how loud it is before and after: 20 ms. */
const GUARD = 5;
/** A blow on the tub or cabinet rings longer: 60 ms are left out after it. */
const GUARD_LOW_RING = 15;
/** Half-widths of the windows: 0.4 s shows the level, 80 ms shows what a short stroke has. */
const HALF_LONG = 50;
const HALF_SHORT = 10;

/** Mean power per frame of an envelope of any rate; fractions of a sample are shared out. */
export function framePower(envelope: BandEnvelope, count: number, rateHz: number): Float64Array {
  const { power, sampleRateHz } = envelope;
  const sums = new Float64Array(power.length + 1);
  for (let i = 0; i < power.length; i++) sums[i + 1] = sums[i]! + power[i]!;
  const step = sampleRateHz / rateHz;
  const sumAt = (position: number): number => {
    // A sample stands for the half interval on either side of its moment.
    const at = Math.min(power.length, Math.max(0, position + 0.5));
    const i = Math.min(power.length - 1, Math.floor(at));
    return sums[i]! + (at - i) * power[i]!;
  };
  const out = new Float64Array(count);
  let left = sumAt(0);
  for (let i = 0; i < count; i++) {
    const right = sumAt((i + 1) * step);
    out[i] = Math.max(0, (right - left) / step);
    left = right;
  }
  return out;
}

/** The part of a band that the recording carries, 0 to 1. */
function carried(context: ListeningContext, band: BandName): number {
  const [low, high] = BANDS[band];
  const [from, to] = context.recording.bandHz;
  return Math.max(0, Math.min(high, to) - Math.max(low, from)) / (high - low);
}

// Medians to one side of each frame; at the end of the clip the other side stands for it.
function beside(medians: Float64Array, count: number, offset: number): Float64Array {
  const last = medians.length - 1;
  const out = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const at = (i + offset) >> 1;
    const mirrored = at < 0 || at > last ? (i - offset) >> 1 : at;
    out[i] = medians[Math.min(last, Math.max(0, mirrored))]!;
  }
  return out;
}

const larger = (a: Float64Array, b: Float64Array): Float64Array =>
  a.map((v, i) => Math.max(v, b[i]!));

// Median of every second frame is enough: neighbours hardly differ in what the median sees.
function surroundings(power: Float64Array, ring: number): Pick<OctaveFrames, "before" | "after"> {
  const n = power.length;
  const half = new Float64Array(Math.ceil(n / 2));
  for (let i = 0; i < half.length; i++) {
    half[i] = 0.5 * (power[2 * i]! + power[Math.min(n - 1, 2 * i + 1)]!);
  }
  const long = runningMedian(half, HALF_LONG / 2);
  const short = runningMedian(half, HALF_SHORT / 2);
  const side = (medians: Float64Array, offset: number): Float64Array => beside(medians, n, offset);
  return {
    before: larger(side(long, -GUARD - HALF_LONG), side(short, -GUARD - HALF_SHORT)),
    after: larger(side(long, ring + HALF_LONG), side(short, ring + HALF_SHORT)),
  };
}

// Summed power of each slot of the usable mask.
function slotLevels(context: ListeningContext, octaves: readonly OctaveFrames[]): Float64Array {
  const perSlot = context.maskHopSeconds * FRAME_RATE_HZ;
  return Float64Array.from(context.usableMask, (_, j) => {
    const first = Math.floor(j * perSlot);
    const end = Math.max(first + 1, Math.floor((j + 1) * perSlot));
    let sum = 0;
    for (const { power } of octaves) for (let i = first; i < end; i++) sum += power[i] ?? 0;
    return sum / (end - first);
  });
}

/**
 * Frames of speech and handling. The mask leaves out silence as well, but a click in a pause counts: a
 * stretch that is left out and lies 3 dB under nearly all of the usable sound is taken for a pause.
 */
function excludedFrames(
  context: ListeningContext,
  octaves: readonly OctaveFrames[],
  count: number,
): Uint8Array {
  const excluded = new Uint8Array(count);
  const { usableMask, maskHopSeconds } = context;
  if (usableMask.every((usable) => usable === 1)) return excluded;
  const level = slotLevels(context, octaves);
  const heard = level.filter((_, j) => usableMask[j] === 1);
  const pauseBelow = heard.length === 0 ? 0 : 0.5 * quantile(heard, 0.1);
  for (let start = 0; start < level.length; start++) {
    if (usableMask[start] === 1) continue;
    let end = start;
    while (end < level.length && usableMask[end] === 0) end++;
    if (median(level.subarray(start, end)) >= pauseBelow) {
      const toFrame = maskHopSeconds * FRAME_RATE_HZ;
      excluded.fill(1, Math.floor(start * toFrame), Math.ceil(end * toFrame));
    }
    start = end;
  }
  return excluded;
}

function buildFrames(context: ListeningContext): SoundFrames {
  const count = Math.floor((context.sound.length / context.soundRateHz) * FRAME_RATE_HZ);
  const octaves = OCTAVES.filter((band) => carried(context, band) >= 0.5).map((band) => {
    const power = framePower(context.envelope(band), count, FRAME_RATE_HZ);
    const [low, high] = BANDS[band];
    return {
      band,
      centreHz: Math.sqrt(low * high),
      power,
      ...surroundings(power, low < 500 ? GUARD_LOW_RING : GUARD),
    };
  });
  return { count, octaves, excluded: excludedFrames(context, octaves, count) };
}

const known = new WeakMap<ListeningContext, SoundFrames>();

/** The clip in 4 ms frames of five octaves, worked out once per context. */
export function soundFrames(context: ListeningContext): SoundFrames {
  let frames = known.get(context);
  if (!frames) {
    frames = buildFrames(context);
    known.set(context, frames);
  }
  return frames;
}
