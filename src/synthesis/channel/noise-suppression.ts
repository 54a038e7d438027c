import { fftPlan } from "../../signal/fft-plan.js";
import { windowOf } from "../../signal/window.js";

const SIZE = 1024;
const HOP = SIZE / 2;

/**
 * Spectral subtraction as in voice recorders: tracks the floor of each bin by its slow minimum and
 * turns steady bins down, by at most `depthDb`. In place. Root-Hann windows at half overlap, so that
 * without any attenuation the sound comes back unchanged.
 */
export function suppressNoise(samples: Float64Array, depthDb: number): void {
  const plan = fftPlan(SIZE);
  const window = windowOf("hann", SIZE).map(Math.sqrt);
  const floor = new Float64Array(SIZE / 2 + 1);
  const smoothed = new Float64Array(SIZE / 2 + 1);
  const least = 10 ** (-depthDb / 20);
  const block = new Float64Array(2 * SIZE);
  const spectrum = new Float64Array(2 * SIZE);
  const out = new Float64Array(samples.length);
  for (let start = -HOP; start < samples.length; start += HOP) {
    block.fill(0);
    for (let i = 0; i < SIZE; i++) block[2 * i] = window[i]! * (samples[start + i] ?? 0);
    plan.forward(block, spectrum);
    for (let k = 0; k <= SIZE / 2; k++) {
      const power = spectrum[2 * k]! ** 2 + spectrum[2 * k + 1]! ** 2;
      smoothed[k] = start < HOP ? power : 0.8 * smoothed[k]! + 0.2 * power;
      // Rises by about 3 dB a second, falls at once.
      floor[k] = start < HOP ? 0.5 * power : Math.min(smoothed[k]!, floor[k]! * 1.008);
      const gain = Math.max(least, Math.sqrt(Math.max(0, 1 - (2 * floor[k]!) / (power + 1e-30))));
      spectrum[2 * k]! *= gain;
      spectrum[2 * k + 1]! *= gain;
      if (k === 0 || k === SIZE / 2) continue;
      spectrum[2 * (SIZE - k)] = spectrum[2 * k]!;
      spectrum[2 * (SIZE - k) + 1] = -spectrum[2 * k + 1]!;
    }
    plan.inverse(spectrum, block);
    for (let i = Math.max(0, -start); i < SIZE && start + i < out.length; i++) {
      out[start + i]! += window[i]! * block[2 * i]!;
    }
  }
  samples.set(out);
}
