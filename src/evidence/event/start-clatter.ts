import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import type { Seconds } from "../../foundation/units.js";
import { mean, quantile } from "../../foundation/statistics.js";
import { decoyPValue } from "../../foundation/significance.js";
import { fftPlan } from "../../signal/fft-plan.js";
import { measured, missing } from "../measurement.js";
import { framePower, FRAME_RATE_HZ, soundFrames } from "./sound-frames.js";
import { findStarts } from "./starts.js";
import { eventTrust } from "./trust.js";

/** Clatter of splines catching lasts 0.2-3 s after the drive starts (trade reference §3.2). */
const AFTER_SECONDS = 3.5;
const BLOCK = Math.round(0.2 * FRAME_RATE_HZ);
const BURST_BLOCKS = 3;

// How peaked the power is in each block of 0.2 s, dB, mean of octaves: 88 % quantile over median, so
// that one bang, which is over in 20 ms, is no clatter.
function peakedness(context: ListeningContext): Float64Array {
  const { octaves, count } = soundFrames(context);
  const used = octaves.filter(({ centreHz }) => centreHz > 500);
  const out = new Float64Array(Math.floor(count / BLOCK));
  for (let b = 0; b < out.length; b++) {
    for (const { power } of used) {
      const sorted = power.slice(b * BLOCK, (b + 1) * BLOCK).sort();
      const high = sorted[Math.floor(0.88 * (BLOCK - 1))]!;
      out[b]! += (10 * Math.log10((high + 1e-14) / (sorted[BLOCK >> 1]! + 1e-14))) / used.length;
    }
  }
  return out;
}

// Most peaked run of 0.6 s that begins in a window.
function burst(peaked: Float64Array, from: number, to: number): number {
  let best = -Infinity;
  for (let b = Math.max(0, from); b < to && b + BURST_BLOCKS <= peaked.length; b++) {
    best = Math.max(best, mean(peaked.subarray(b, b + BURST_BLOCKS)));
  }
  return best;
}

/**
 * Where clatter may begin. A clip of a spin in which no start is seen may begin with one: people record
 * when they hear it. Handling of the phone rattles there too, so that is trusted half.
 */
function placesOf(context: ListeningContext): { starts: readonly Seconds[]; trust: number } {
  const starts = findStarts(context);
  if (starts.length > 0 || context.toldPhase !== "spin") return { starts, trust: 1 };
  return { starts: [0], trust: 0.5 };
}

/**
 * Burst of clatter (0.5-7.5 kHz) within 3.5 s of the moment the drum starts to be driven: peakedness
 * of its 0.6 s over the clip's usual most peaked 0.6 s in as long a time, dB. About 0 or less without.
 */
export function startClatter(context: ListeningContext): Measurement {
  const { starts, trust } = placesOf(context);
  if (starts.length === 0) return missing("no-events");
  const peaked = peakedness(context);
  const blockSeconds = BLOCK / FRAME_RATE_HZ;
  const span = Math.round(AFTER_SECONDS / blockSeconds);
  // The block of the start itself holds the step of the level, which is no clatter.
  const firsts = starts.map((start) => Math.ceil(start / blockSeconds) + 1);
  const elsewhere: number[] = [];
  for (let b = 0; b + span <= peaked.length; b += span >> 1) {
    if (firsts.every((first) => b + span <= first - 2 || b > first + span)) {
      elsewhere.push(burst(peaked, b, b + span));
    }
  }
  if (elsewhere.length < 2) return missing("short");
  const found = firsts.map((first) => burst(peaked, first, first + span));
  const best = Math.max(...found);
  const known = elsewhere.length / (elsewhere.length + 3);
  // The best of k starts is set against what the best of k other places would be.
  const expected = quantile(elsewhere, starts.length / (starts.length + 1));
  return measured(best - expected, trust * eventTrust(context) * known, {
    starts: starts.length,
    atSeconds: starts[found.indexOf(best)]!,
  });
}

/** A burst that stands out less is the clip's usual unevenness. */
const LEAST_CLATTER_DB = 1.5;
const ENVELOPE_RATE_HZ = 500;
const CHIRP_SIZE = 512;
const CATCH_UP_SECONDS = [0.4, 0.6, 0.9, 1.3, 2, 3] as const;

/**
 * Strongest line of an envelope whose rate falls linearly to zero over `catchUp` seconds: time is bent
 * so that such a rate becomes a steady one, and the line is read over the bent spectrum's median.
 */
function fallingLine(
  envelope: Float64Array,
  first: number,
  catchUp: number,
  rising: boolean,
): number {
  const n = Math.floor(0.9 * catchUp * ENVELOPE_RATE_HZ);
  if (first < 0 || first + n > envelope.length) return NaN;
  const block = new Float64Array(CHIRP_SIZE);
  const stretch = envelope.subarray(first, first + n);
  const level = mean(stretch) + 1e-14;
  for (let i = 0; i < CHIRP_SIZE; i++) {
    // Bent time u = 1 - (1 - t/T)², which grows as fast as the falling rate.
    const u = (i / CHIRP_SIZE) * 0.99;
    const t = Math.min(n - 1, (1 - Math.sqrt(1 - u)) * catchUp * ENVELOPE_RATE_HZ);
    const at = Math.floor(rising ? n - 1 - t : t);
    const window = Math.sin((Math.PI * (i + 0.5)) / CHIRP_SIZE) ** 2;
    // Square roots keep a single blow from deciding.
    block[i] = (Math.sqrt(Math.min(9, stretch[at]! / level)) - 1) * window;
  }
  const bins = new Float64Array(2 * CHIRP_SIZE);
  fftPlan(CHIRP_SIZE).forwardReal(block, bins);
  // Cycles in the bent time: half of start rate times duration. Below 4 there is no rate to fall.
  const highest = Math.min(CHIRP_SIZE / 4, 60 * catchUp);
  const power: number[] = [];
  for (let k = 4; k < highest; k++) power.push(bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2);
  return power.length < 6 ? NaN : Math.max(...power) / (mean(power) + 1e-14);
}

function bestFall(envelope: Float64Array, seconds: Seconds, rising: boolean): number {
  let best = 0;
  for (const catchUp of CATCH_UP_SECONDS) {
    for (const offset of [0, 0.12, 0.25, 0.4]) {
      const first = Math.round((seconds + offset) * ENVELOPE_RATE_HZ);
      const value = fallingLine(envelope, first, catchUp, rising);
      if (value > best) best = value;
    }
  }
  return best;
}

/**
 * Does the clatter's rate fall towards nothing after the start, as splines do while the basket catches up
 * with the pulley? p-value of the clearest falling rate after a start against falling rates elsewhere in
 * the clip and rising ones everywhere, which nothing in a machine makes by itself.
 */
export function startClatterFalling(context: ListeningContext): Measurement {
  const { starts, trust } = placesOf(context);
  if (starts.length === 0) return missing("no-events");
  const seconds = context.sound.length / context.soundRateHz;
  const count = Math.floor(seconds * ENVELOPE_RATE_HZ);
  const band = context.recording.bandHz[1] > 3000 ? "octave-2k" : "octave-1k";
  const envelope = framePower(context.envelope(band), count, ENVELOPE_RATE_HZ);
  // Without a burst of clatter there is nothing whose rate could fall.
  const clatter = startClatter(context);
  if (clatter.value !== null && clatter.value < LEAST_CLATTER_DB) {
    return measured(1, clatter.quality, { starts: starts.length });
  }
  const decoys: number[] = [];
  for (let at = 0; at + AFTER_SECONDS < seconds && decoys.length < 40; at += seconds / 22) {
    decoys.push(bestFall(envelope, at, true));
    if (starts.every((start) => Math.abs(at - start) > AFTER_SECONDS)) {
      decoys.push(bestFall(envelope, at, false));
    }
  }
  if (decoys.length < 8) return missing("short");
  const found = starts.map((start) => bestFall(envelope, start - 0.1, false));
  const p = decoyPValue(quantile(found, 1), decoys);
  return measured(Math.min(1, p * starts.length), trust * eventTrust(context) * 0.8, {
    starts: starts.length,
  });
}
