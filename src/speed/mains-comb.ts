import { median } from "../foundation/statistics.js";
import { fftPlan } from "../signal/fft-plan.js";
import { windowOf } from "../signal/window.js";

/** What is heard of the mains. */
export interface MainsComb {
  readonly lineHz: 50 | 60 | null;
  /** Exact frequency of the grid while recorded, Hz; null when no comb is heard. */
  readonly exactHz: number | null;
  /** Mean level of the comb's audible lines over their surroundings, dB; null when none is heard. */
  readonly combDb: number | null;
}

const BLOCK = 32768;
// Deviation that large grids keep to, and a phone's clock on top.
const DRIFT_SHARE = 0.0025;
const LINES = 16;

// Mean power over long blocks (4 s at 8 kHz): a line of the mains stands still for that long.
function longSpectrum(sound: Float64Array): Float64Array {
  const length = Math.min(BLOCK, sound.length);
  const window = windowOf("hann", length);
  const block = new Float64Array(BLOCK);
  const bins = new Float64Array(2 * BLOCK);
  const power = new Float64Array(BLOCK / 2);
  // Ten blocks tell enough; only short clips need overlap.
  const hop = Math.max(1, length >> 1, Math.floor(sound.length / 12));
  for (let start = 0; start + length <= sound.length; start += hop) {
    block.fill(0);
    for (let i = 0; i < length; i++) block[i] = sound[start + i]! * window[i]!;
    fftPlan(BLOCK).forwardReal(block, bins);
    for (let k = 0; k < power.length; k++) power[k]! += bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
  }
  return power;
}

interface CombFit {
  readonly exactHz: number;
  readonly score: number;
  readonly combDb: number;
  readonly lines: number;
}

/** ln of the power at a place over the median of its surroundings (±9 Hz without ±2 Hz). */
function excessAt(power: Float64Array, binHz: number): (hz: number) => number {
  const backgrounds = new Map<number, number>();
  return (hz) => {
    const k = Math.round(hz / binHz);
    const key = Math.round(hz);
    let background = backgrounds.get(key);
    if (background === undefined) {
      const near = Math.round(2 / binHz);
      const far = Math.round(9 / binHz);
      const around: number[] = [];
      for (let j = near; j <= far; j++) around.push(power[k - j] ?? 0, power[k + j] ?? 0);
      background = median(around) + 1e-30;
      backgrounds.set(key, background);
    }
    return Math.log(Math.max(power[k - 1]! * 0.5, power[k]!, power[k + 1]! * 0.5) / background);
  };
}

function fitComb(
  excess: (hz: number) => number,
  nominalHz: number,
  bandHz: readonly [number, number],
): CombFit {
  let best: CombFit = { exactHz: nominalHz, score: -Infinity, combDb: 0, lines: 0 };
  for (let step = -12; step <= 12; step++) {
    const exactHz = nominalHz * (1 + (DRIFT_SHARE * step) / 12);
    let score = 0;
    let level = 0;
    let lines = 0;
    for (let k = 1; k <= LINES; k++) {
      const hz = k * exactHz;
      // Motors and transformers hum at even multiples. 300 Hz and its multiples belong to both combs.
      if (hz < Math.max(40, bandHz[0] * 0.7) || hz > bandHz[1]) continue;
      const value = excess(hz);
      const weight = k % 6 === 0 && Math.round(hz) % 300 < 3 ? 0.2 : k % 2 === 0 ? 1 : 0.5;
      score += weight * Math.max(-0.08, Math.min(3, value - 1.8));
      if (value > 2.3) {
        level += value;
        lines++;
      }
    }
    const combDb = lines > 0 ? (4.343 * level) / lines : 0;
    if (score > best.score) best = { exactHz, score, combDb, lines };
  }
  return best;
}

/**
 * Looks for the comb of hum at multiples of 50 or 60 Hz.
 *
 * Compares the summed excess of lines 1-16 (each capped, so that one loud tone of a machine cannot pass
 * for a comb) over ±0.25 % of drift. A comb is heard when its score leads the other's clearly; one strong line
 * at twice the mains frequency is enough; a told line frequency settles the choice but not whether it is heard.
 *
 * @param sound8k sound at `rateHz` of about 8 kHz
 */
export function findMainsComb(
  sound8k: Float64Array,
  rateHz: number,
  bandHz: readonly [number, number],
  toldLineHz?: 50 | 60,
): MainsComb {
  const power = longSpectrum(sound8k);
  const excess = excessAt(power, rateHz / BLOCK);
  const fifty = fitComb(excess, 50, bandHz);
  const sixty = fitComb(excess, 60, bandHz);
  const heard = (fit: CombFit, other: CombFit): boolean =>
    fit.score > 2 && fit.score > other.score + 1.5;
  if (toldLineHz !== undefined) {
    const fit = toldLineHz === 50 ? fifty : sixty;
    const clear = fit.lines >= 1 && fit.score > 1;
    return {
      lineHz: toldLineHz,
      exactHz: clear ? fit.exactHz : null,
      combDb: clear ? fit.combDb : null,
    };
  }
  if (heard(fifty, sixty)) return { lineHz: 50, exactHz: fifty.exactHz, combDb: fifty.combDb };
  if (heard(sixty, fifty)) return { lineHz: 60, exactHz: sixty.exactHz, combDb: sixty.combDb };
  return { lineHz: null, exactHz: null, combDb: null };
}
