import { fftPlan, nextPowerOfTwo } from "../../signal/fft-plan.js";
import { windowOf } from "../../signal/window.js";
import type { ListeningContext } from "../context.js";
import type { Series } from "./level-series.js";
import { usableShare } from "./sound-frames.js";

/** Spectrum of the level of one stretch, common to all octaves. */
export interface ModulationBlock {
  /**
   * Shape [binCount]: real part of the cross density of two octaves' levels over their means, mean over
   * the pairs, per hertz. Its integral is the squared modulation index; 0 on average for steady noise.
   */
  readonly density: Float64Array;
  readonly binHz: number;
  readonly startSeconds: number;
  readonly endSeconds: number;
}

function levelSpectrum(level: Float64Array, start: number, window: Float64Array): Float64Array {
  const n = window.length;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += level[start + i]!;
  const block = new Float64Array(n);
  for (let i = 0; i < n; i++) block[i] = ((level[start + i]! * n) / sum - 1) * window[i]!;
  const bins = new Float64Array(2 * n);
  fftPlan(n).forwardReal(block, bins);
  return bins;
}

function addCross(density: Float64Array, a: Float64Array, b: Float64Array): void {
  for (let k = 0; k < density.length; k++) {
    density[k]! += a[2 * k]! * b[2 * k]! + a[2 * k + 1]! * b[2 * k + 1]!;
  }
}

/**
 * Common modulation spectra of stretches of about `seconds`, half overlapping, usable throughout.
 *
 * @param levels at least two, of one rate, without their slow course
 */
export function modulationBlocks(
  context: ListeningContext,
  levels: readonly Series[],
  seconds: number,
): ModulationBlock[] {
  const { rateHz } = levels[0]!;
  const share = usableShare(context);
  const length = nextPowerOfTwo(seconds * rateHz * 0.75);
  const count = Math.min(...levels.map(({ values }) => values.length));
  const window = windowOf("hann", length);
  const scale = 2 / (rateHz * window.reduce((sum, w) => sum + w * w, 0));
  const blocks: ModulationBlock[] = [];
  for (let start = 0; start + length <= count; start += length / 2) {
    const startSeconds = start / rateHz;
    const endSeconds = (start + length) / rateHz;
    if (share(startSeconds, endSeconds) < 0.95) continue;
    const spectra = levels.map(({ values }) => levelSpectrum(values, start, window));
    const density = new Float64Array(Math.min(length / 2, Math.ceil((160 * length) / rateHz)));
    for (let i = 0; i < spectra.length; i++) {
      for (let j = i + 1; j < spectra.length; j++) addCross(density, spectra[i]!, spectra[j]!);
    }
    const pairs = (spectra.length * (spectra.length - 1)) / 2;
    for (let k = 0; k < density.length; k++) density[k]! *= scale / pairs;
    blocks.push({ density, binHz: rateHz / length, startSeconds, endSeconds });
  }
  return blocks;
}

/** Integral of a block's density over a band: the squared modulation index there. */
export function modulationIn(
  { density, binHz }: ModulationBlock,
  lowHz: number,
  highHz: number,
): number {
  let sum = 0;
  const last = Math.min(density.length - 1, Math.floor(highHz / binHz));
  for (let k = Math.ceil(lowHz / binHz); k <= last; k++) sum += density[k]!;
  return sum * binHz;
}
