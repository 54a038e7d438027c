import type { ListeningContext } from "../context.js";
import type { ImpactEvent } from "../evidence.js";
import { median } from "../../foundation/statistics.js";
import { FRAME_RATE_HZ, soundFrames, type OctaveFrames, type SoundFrames } from "./sound-frames.js";

/** Normal deviate of the chance that a frame of plain noise passes for a blow: 1e-6. */
const NOISE_DEVIATE = 4.75;
/** Frames between two blows at least (12 ms). */
const SEPARATION = 3;
const MOST = 400;

/** Power over the surroundings in one group of octaves, and how much of it noise can have. */
interface Contrast {
  /** Shape [count], power over the higher of the levels before and after. */
  readonly ratio: Float64Array;
  readonly threshold: number;
}

/**
 * Ratio over the median that Gaussian noise passes once in a million frames.
 *
 * Frame powers of noise follow a gamma law; `spread` is the robust deviation of their logarithm,
 * which gives its shape. Cube-root normal approximation of Wilson and Hilferty, PNAS 17 (1931) 684-688.
 */
export function noiseCeiling(spread: number, deviate: number): number {
  const g = 1 - Math.exp(-spread / 3);
  let c = g;
  for (let i = 0; i < 8; i++) c = (1 - c * c) * g;
  return ((1 - c * c + deviate * c) / (1 - c * c)) ** 3;
}

function contrastOf(octaves: readonly OctaveFrames[], frames: SoundFrames): Contrast {
  const ratio = new Float64Array(frames.count);
  const tiny = 1e-14;
  for (const { power, before, after } of octaves) {
    for (let i = 0; i < ratio.length; i++) {
      ratio[i]! += power[i]! / (Math.max(before[i]!, after[i]!) + tiny) / octaves.length;
    }
  }
  const steps: number[] = [];
  for (let i = 0; i + 2 < ratio.length; i += 3) {
    if (frames.excluded[i]) continue;
    steps.push(Math.abs(Math.log((ratio[i + 2]! + 1e-9) / (ratio[i]! + 1e-9))));
  }
  const spread = Math.max(0.01, (1.4826 / Math.SQRT2) * median(steps));
  // A decibel is added because no real background is as even as noise.
  return { ratio, threshold: 1.26 * noiseCeiling(spread, NOISE_DEVIATE) };
}

function groups(octaves: readonly OctaveFrames[]): OctaveFrames[][] {
  const within = (low: number, high: number): OctaveFrames[] =>
    octaves.filter((octave) => octave.centreHz >= low && octave.centreHz < high);
  return [within(0, 500), within(500, 2000), within(2000, 9000)].filter((g) => g.length > 0);
}

/** Centre of what a blow adds to each octave, on a logarithmic frequency axis. */
function centreOf(octaves: readonly OctaveFrames[], at: number): number {
  let weight = 0;
  let sum = 0;
  for (const { power, before, after, centreHz } of octaves) {
    const background = Math.max(before[at]!, after[at]!);
    let excess = 0;
    for (let i = at; i < Math.min(power.length, at + 3); i++)
      excess += Math.max(0, power[i]! - background);
    weight += excess;
    sum += excess * Math.log(centreHz);
  }
  return weight > 0 ? Math.exp(sum / weight) : NaN;
}

function decayFrames(ratio: Float64Array, at: number): number {
  // 20 dB down, or 3 dB above the surroundings, whichever is met first.
  const floor = Math.max(ratio[at]! / 100, 2);
  let i = at;
  while (i + 2 < ratio.length && i - at < 125) {
    if ((ratio[i]! + ratio[i + 1]! + ratio[i + 2]!) / 3 < floor) break;
    i++;
  }
  return Math.max(1, i - at);
}

// A blow jumps up: its level 16 to 44 ms earlier is at least half its rise (in dB) lower.
function isSharp(ratio: Float64Array, at: number): boolean {
  let earlier = 0;
  let count = 0;
  for (let i = Math.max(0, at - 11); i <= at - 4; i++) {
    earlier += ratio[i]!;
    count++;
  }
  if (count < 3) return false;
  return Math.log(ratio[at]! / Math.max(0.1, earlier / count)) > 0.5 * Math.log(ratio[at]!);
}

interface Candidate {
  readonly at: number;
  readonly contrast: Contrast;
  /** Height over what noise reaches, as a power ratio. */
  readonly excess: number;
}

function candidates(contrasts: readonly Contrast[], frames: SoundFrames): Candidate[] {
  const found: Candidate[] = [];
  for (const contrast of contrasts) {
    const { ratio, threshold } = contrast;
    for (let i = 2; i + 2 < ratio.length; i++) {
      const value = ratio[i]!;
      if (value < threshold || frames.excluded[i]) continue;
      if (value < ratio[i - 1]! || value <= ratio[i + 1]! || !isSharp(ratio, i)) continue;
      found.push({ at: i, contrast, excess: value / threshold });
    }
  }
  return found.sort((a, b) => b.excess - a.excess);
}

function describe(candidate: Candidate, octaves: readonly OctaveFrames[]): ImpactEvent {
  const { at, contrast } = candidate;
  return {
    timeSeconds: (at + 0.5) / FRAME_RATE_HZ,
    riseDb: 10 * Math.log10(contrast.ratio[at]!),
    centreHz: centreOf(octaves, at),
    decaySeconds: decayFrames(contrast.ratio, at) / FRAME_RATE_HZ,
  };
}

function search(context: ListeningContext): ImpactEvent[] {
  const frames = soundFrames(context);
  if (frames.count < FRAME_RATE_HZ) return [];
  const contrasts = groups(frames.octaves).map((group) => contrastOf(group, frames));
  const taken = new Uint8Array(frames.count + 1);
  const impacts: ImpactEvent[] = [];
  for (const candidate of candidates(contrasts, frames)) {
    if (impacts.length >= MOST) break;
    if (taken[candidate.at]) continue;
    impacts.push(describe(candidate, frames.octaves));
    // The same blow comes up to 12 ms apart in the octaves, because narrow bands answer late.
    taken.fill(1, Math.max(0, candidate.at - SEPARATION), candidate.at + SEPARATION + 1);
  }
  return impacts.sort((a, b) => a.timeSeconds - b.timeSeconds);
}

const known = new WeakMap<ListeningContext, readonly ImpactEvent[]>();

/**
 * Sharp events of the clip: frames of 4 ms that stand above the level both before and after them
 * by more than noise of the clip's own kind does once in a million frames, in 60-500 Hz, 0.5-2 kHz or
 * 2-7.5 kHz. At most the 400 clearest, in order of time. Gain-free; a step of the level is no blow.
 */
export function findImpacts(context: ListeningContext): readonly ImpactEvent[] {
  let impacts = known.get(context);
  if (!impacts) {
    impacts = search(context);
    known.set(context, impacts);
  }
  return impacts;
}
