import { fftPlan } from "../signal/fft-plan.js";
import { windowOf } from "../signal/window.js";
import type { FrameTimes } from "./frame-times.js";
import type { LogEnvelopes } from "./log-envelope.js";
import { applyWarp, warpTaps } from "./warp.js";
import { backgroundOf } from "./whiten.js";

/** Short-time modulation spectra, each frame at several rates of change of speed. */
export interface TurnFrames {
  /** excess[chirp][frame]: excess of modulation over its surroundings per bin, nepers. */
  readonly excess: readonly (readonly Float64Array[])[];
  readonly binHz: number;
}

const LENGTH = 512;
const SIZE = 1024;
const TOP_HZ = 85;

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
  const taps = chirps.map((chirp) => warpTaps(chirp, rateHz, window));
  const plan = fftPlan(SIZE);
  const block = new Float64Array(SIZE);
  const bins = new Float64Array(2 * SIZE);
  const excess = chirps.map(() => times.centres.map(() => new Float64Array(count)));
  const still = chirps.indexOf(0);
  const order = [still, ...chirps.map((_, c) => c).filter((c) => c !== still)];
  const power = new Float64Array(count);
  times.centres.forEach((centre, t) => {
    for (const row of rows) {
      let background: Float64Array | null = null;
      for (const c of order) {
        block.fill(0);
        applyWarp(row, Math.round(centre * rateHz), taps[c]!, block);
        plan.forwardReal(block, bins);
        for (let k = 0; k < count; k++)
          power[k] = bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2 + 1e-12;
        background ??= backgroundOf(power, binHz, 4);
        const sum = excess[c]![t]!;
        for (let k = 0; k < count; k++) sum[k]! += (0.69 * power[k]!) / background[k]!;
      }
    }
    for (const c of order) {
      const sum = excess[c]![t]!;
      for (let k = 0; k < count; k++) {
        sum[k] = Math.max(-0.8, Math.min(2.5, Math.log(sum[k]! / rows.length + 1e-6)));
      }
    }
  });
  return { excess, binHz };
}
