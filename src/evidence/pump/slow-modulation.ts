import type { ListeningContext } from "../context.js";
import { BANDS } from "../context.js";
import { FRAME_RATE_HZ, soundFrames } from "../event/sound-frames.js";
import { median } from "../../foundation/statistics.js";
import { fftPlan } from "../../signal/fft-plan.js";
import { windowOf } from "../../signal/window.js";

const SIZE = 1024;

/** Modulation of the sound of 1-7.5 kHz in rates of 2-20 Hz. */
export interface SlowModulation {
  /** Index of all modulation beyond what noise of that width has. */
  readonly total: number;
  /** Index of its random part: the modulation spectrum's floor, lines of even beats left out. */
  readonly random: number;
}

// Mean spectrum of an octave's power about its slow course, over its mean; blocks of 4 s.
function modulationSpectrum(power: Float64Array, excluded: Uint8Array): Float64Array | null {
  const window = windowOf("hann", SIZE);
  const sum = new Float64Array(SIZE / 2);
  const block = new Float64Array(SIZE);
  const bins = new Float64Array(2 * SIZE);
  let count = 0;
  for (let at = 0; at + SIZE <= power.length; at += SIZE / 2) {
    let level = 0;
    let masked = 0;
    for (let i = 0; i < SIZE; i++) {
      level += power[at + i]! / SIZE;
      masked += excluded[at + i]!;
    }
    if (masked > 0 || level === 0) continue;
    // Frames far above the mean are cut: hard knocks are looked for elsewhere.
    const ceiling = 4 * level;
    for (let i = 0; i < SIZE; i++) {
      block[i] = (Math.min(ceiling, power[at + i]!) / level - 1) * window[i]!;
    }
    fftPlan(SIZE).forwardReal(block, bins);
    for (let k = 0; k < sum.length; k++) sum[k]! += bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
    count++;
  }
  if (count === 0) return null;
  const scale = 2 / (FRAME_RATE_HZ * 0.375 * SIZE) / count;
  return sum.map((v) => v * scale);
}

/**
 * Modulation at 2-20 Hz of the octaves above 1 kHz, mean over octaves; null for clips under 4 s. From the
 * spectrum S of P/<P>: index² = ∫S df less 2·18/B for noise of width B. The random part takes
 * the median of S instead of its mean (for χ² with ν degrees of freedom the two differ by a known factor,
 * near 1 for the averages used here).
 */
export function slowModulation(context: ListeningContext): SlowModulation | null {
  const frames = soundFrames(context);
  const octaves = frames.octaves.filter(({ centreHz }) => centreHz > 1000);
  const binHz = FRAME_RATE_HZ / SIZE;
  const low = Math.round(2 / binHz);
  const high = Math.round(20 / binHz);
  let total = 0;
  let random = 0;
  let used = 0;
  for (const { band, power } of octaves) {
    const spectrum = modulationSpectrum(power, frames.excluded);
    if (!spectrum) continue;
    const part = spectrum.subarray(low, high + 1);
    const ofNoise = (2 * part.length * binHz) / (0.9 * (BANDS[band][1] - BANDS[band][0]));
    let sum = 0;
    for (const v of part) sum += v * binHz;
    total += sum - ofNoise;
    random += median(part) * part.length * binHz - ofNoise;
    used++;
  }
  if (used === 0) return null;
  return {
    total: Math.sqrt(Math.max(0, total / used)),
    random: Math.sqrt(Math.max(0, random / used)),
  };
}
