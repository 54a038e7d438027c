import { describe, expect, it } from "vitest";
import { createRandom } from "../../src/foundation/random.js";
import { parabolaVertex } from "../../src/signal/peaks.js";
import { blockPower, welch } from "../../src/signal/spectrum.js";
import { coherentGain, noiseBandwidthBins, windowOf } from "../../src/signal/window.js";

const N = 4096;

/** Magnitude of the window's own transform at a place between bins, over that at 0. */
function responseAt(window: Float64Array, bins: number): number {
  let [re, im] = [0, 0];
  window.forEach((w, n) => {
    re += w * Math.cos((2 * Math.PI * bins * n) / window.length);
    im += w * Math.sin((2 * Math.PI * bins * n) / window.length);
  });
  return Math.hypot(re, im) / (coherentGain(window) * window.length);
}

describe("windowOf(name, 4096)", () => {
  // Figures of merit of the periodic forms from scipy.signal.windows, cross-checked in GNU Octave:
  // coherent gain, equivalent noise bandwidth in bins, loss half a bin off in dB.
  it.each([
    ["rectangle", 1, 1, 3.9224],
    ["hann", 0.5, 1.5, 1.4236],
    ["hamming", 0.54, 1.362826, 1.7514],
    ["blackman", 0.42, 1.726757, 1.0989],
    ["blackman-harris", 0.35875, 2.004353, 0.8256],
    ["flat-top", 0.215579, 3.770246, 0.0098],
  ] as const)("%s has its figures of merit", (name, gain, bandwidth, scallopDb) => {
    const window = windowOf(name, N);
    expect(coherentGain(window)).toBeCloseTo(gain, 5);
    expect(noiseBandwidthBins(window)).toBeCloseTo(bandwidth, 5);
    expect(-20 * Math.log10(responseAt(window, 0.5))).toBeCloseTo(scallopDb, 3);
  });

  it("hann's highest side lobe lies 31.5 dB down", () => {
    const window = windowOf("hann", 256);
    let highest = 0;
    for (let bins = 2; bins < 6; bins += 0.02)
      highest = Math.max(highest, responseAt(window, bins));
    expect(Math.abs(20 * Math.log10(highest) + 31.47)).toBeLessThan(0.1);
  });
});

describe("parabolaVertex on ln power of a Hann spectrum", () => {
  it("errs by at most 0.016 bins, wherever the tone lies", () => {
    // Largest error of a parabola on decibels with a Hann window, N = 1024: 0.01601 bins (computed from the
    // window's closed form; 0.053 on linear magnitudes).
    let worst = 0;
    for (let offset = -0.5; offset <= 0.5; offset += 0.02) {
      const tone = Float64Array.from({ length: 1024 }, (_, i) =>
        Math.cos((2 * Math.PI * (200 + offset) * i) / 1024),
      );
      const power = blockPower(tone, 0, 1024, 1024).map(Math.log);
      const top = power.indexOf(Math.max(...power));
      const vertex = parabolaVertex(power[top - 1]!, power[top]!, power[top + 1]!);
      worst = Math.max(worst, Math.abs(top + vertex.position - 200 - offset));
    }
    expect(worst).toBeGreaterThan(0.0145);
    expect(worst).toBeLessThan(0.0176);
  });
});

describe("welch(noise of RMS 0.05 at 48 kHz)", () => {
  it("has the density 2 σ² / rate = 1.0417e-7 per hertz", () => {
    const random = createRandom(3);
    const noise = Float64Array.from({ length: 480_000 }, () => 0.05 * random.normal());
    const { values } = welch(noise, 48_000);
    const inner = values.slice(10, -10);
    const density = inner.reduce((sum, v) => sum + v, 0) / inner.length;
    expect(Math.abs(density / 1.0416667e-7 - 1)).toBeLessThan(0.01);
  });
});
