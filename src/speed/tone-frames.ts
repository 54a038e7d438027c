import { fftPlan } from "../signal/fft-plan.js";
import { windowOf } from "../signal/window.js";
import { FRAME_SECONDS, type FrameTimes } from "./frame-times.js";
import { applyWarp, warpTaps } from "./warp.js";
import { backgroundOf, meanFrame, whitenFrame } from "./whiten.js";

/** Short-time spectra of tones, each frame at several rates of change of speed. */
export interface ToneFrames {
  /** excess[chirp][frame]: excess over the surroundings per bin, nepers, mean about 0. */
  readonly excess: readonly (readonly Float64Array[])[];
  readonly binHz: number;
}

const LENGTH = 4096;
const TOP_HZ = 3600;

/** Bins on mains lines may not count for more than this, nepers. */
const MAINS_CAP = 0.3;

function capMains(frame: Float64Array, binHz: number, mainsHz: number, smear: number): void {
  for (let k = 1; k <= 24; k++) {
    const hz = k * mainsHz;
    const half = 2 * binHz + smear * hz;
    const low = Math.floor((hz - half) / binHz);
    const high = Math.min(frame.length - 1, Math.ceil((hz + half) / binHz));
    for (let j = low; j <= high; j++) if (frame[j]! > MAINS_CAP) frame[j] = MAINS_CAP;
  }
}

/**
 * Whitened log spectra of 0.5 s frames up to 3.6 kHz.
 *
 * @param rateHz about 8 kHz
 * @param mainsHz exact mains frequency whose comb must not pass for a shaft, or null
 */
export function toneFrames(
  sound: Float64Array,
  rateHz: number,
  times: FrameTimes,
  chirps: readonly number[],
  mainsHz: number | null,
): ToneFrames {
  const window = windowOf("hann", LENGTH);
  const binHz = rateHz / LENGTH;
  const count = Math.min(LENGTH / 2, Math.floor(TOP_HZ / binHz));
  const plan = fftPlan(LENGTH);
  const block = new Float64Array(LENGTH);
  const bins = new Float64Array(2 * LENGTH);
  const excess = chirps.map((chirp) => {
    const taps = warpTaps(chirp, rateHz, window);
    return times.centres.map((centre) => {
      applyWarp(sound, Math.round(centre * rateHz), taps, block);
      plan.forwardReal(block, bins);
      const frame = new Float64Array(count);
      for (let k = 0; k < count; k++) {
        frame[k] = Math.log(bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2 + 1e-18);
      }
      return frame;
    });
  });
  const still = chirps.indexOf(0);
  const background = backgroundOf(meanFrame(excess[still]!), binHz, 40);
  const half = Math.round(60 / binHz);
  chirps.forEach((chirp, c) => {
    for (const frame of excess[c]!) {
      whitenFrame(frame, background, half);
      if (mainsHz !== null && Math.abs(chirp) <= 0.06) {
        capMains(frame, binHz, mainsHz, 0.5 * Math.abs(chirp) * FRAME_SECONDS);
      }
    }
  });
  return { excess, binHz };
}
