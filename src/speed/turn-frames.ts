import { fftPlan } from "../signal/fft-plan.js";
import { windowOf } from "../signal/window.js";
import type { FrameTimes } from "./frame-times.js";
import { OctaveMean } from "./join-octaves.js";
import type { LogEnvelopes } from "./log-envelope.js";
import { applyWarp, warpTaps } from "./warp.js";
import { backgroundOf } from "./whiten.js";

/** Short-time modulation spectra, each frame at several rates of change of speed. */
export interface TurnFrames {
  /** excess[chirp][frame]: excess of modulation over its surroundings per bin, nepers. */
  readonly excess: readonly (readonly Float64Array[])[];
  readonly binHz: number;
}

/** Samples of a log envelope that one frame looks at: 2.56 s. */
export const TURN_BLOCK = 512;
const LENGTH = TURN_BLOCK;
const SIZE = 1024;
const TOP_HZ = 85;

// Mean power per bin over frames and its smooth course. The noise of a log envelope hardly changes with
// level or colour, so one background per octave serves the whole clip.
function backgroundOfRow(row: Float64Array, rateHz: number, count: number): Float64Array {
  const window = windowOf("hann", LENGTH);
  const block = new Float64Array(SIZE);
  const bins = new Float64Array(2 * SIZE);
  const sum = new Float64Array(count).fill(1e-12);
  for (let start = 0; start === 0 || start + LENGTH <= row.length; start += LENGTH) {
    for (let i = 0; i < LENGTH; i++) block[i] = (row[start + i] ?? 0) * window[i]!;
    fftPlan(SIZE).forwardReal(block, bins);
    for (let k = 0; k < count; k++) sum[k]! += bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
  }
  const blocks = Math.max(1, Math.floor(row.length / LENGTH));
  const background = backgroundOf(sum, rateHz / SIZE, 4);
  return background.map((v) => v / blocks + 1e-12);
}

/** Power that the noise of one octave's envelope gives a Hann window of `TURN_BLOCK`, over frequency. */
export function turnBackground(
  row: Float64Array,
  rateHz: number,
): { readonly background: Float64Array; readonly binHz: number } {
  const binHz = rateHz / SIZE;
  return { background: backgroundOfRow(row, rateHz, Math.floor(TOP_HZ / binHz)), binHz };
}

/** Modulation spectra of 2.56 s frames, octaves whitened one by one and then averaged. */
export function turnFrames(
  envelopes: LogEnvelopes,
  times: FrameTimes,
  chirps: readonly number[],
): TurnFrames {
  const { rows, rateHz } = envelopes;
  const binHz = rateHz / SIZE;
  const count = Math.floor(TOP_HZ / binHz);
  const window = windowOf("hann", LENGTH);
  const plan = fftPlan(SIZE);
  const block = new Float64Array(SIZE);
  const bins = new Float64Array(2 * SIZE);
  const weights = rows.map((row) => backgroundOfRow(row, rateHz, count).map((v) => 1 / v));
  const octaves = new OctaveMean(count);
  const excess = chirps.map((chirp) => {
    const taps = warpTaps(chirp, rateHz, window);
    return times.centres.map((centre) => {
      const sum = new Float64Array(count);
      octaves.clear();
      rows.forEach((row, b) => {
        applyWarp(row, Math.round(centre * rateHz), taps, block);
        plan.forwardReal(block, bins);
        const weight = weights[b]!;
        octaves.nextOctave();
        for (let k = 0; k < count; k++) {
          const power = bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
          octaves.put(k, weight[k]! * power);
        }
      });
      for (let k = 0; k < count; k++) {
        sum[k] = Math.max(-0.8, Math.min(2.5, octaves.logMean(k)));
      }
      return sum;
    });
  });
  return { excess, binHz };
}
