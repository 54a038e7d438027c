import { describe, expect, it } from "vitest";
import { createRandom } from "../../src/foundation/random.js";
import { fftPlan } from "../../src/signal/fft-plan.js";
import { windowOf } from "../../src/signal/window.js";
import { fitFamily } from "../../src/speed/fit-family.js";
import { oddsTable, tableOdds } from "../../src/speed/line-odds.js";
import type { LineSpectrum } from "../../src/speed/line-spectrum.js";
import { findMainsComb } from "../../src/speed/mains-comb.js";
import { movementOf } from "../../src/speed/movement.js";
import { halfRate } from "../../src/speed/half-rate.js";
import { applyWarp, warpTaps } from "../../src/speed/warp.js";

const RATE_HZ = 8000;

function peakShare(block: Float64Array): { hz: number; share: number } {
  const bins = new Float64Array(2 * block.length);
  fftPlan(block.length).forwardReal(block, bins);
  let total = 0;
  let top = 0;
  let at = 0;
  for (let k = 1; k < block.length / 2; k++) {
    const power = bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
    total += power;
    if (power > top) {
      top = power;
      at = k;
    }
  }
  return { hz: (at * RATE_HZ) / block.length, share: top / total };
}

describe("warpTaps(chirp)", () => {
  // f(t) = 400 (1 + 0.2 t): the phase is 2 pi 400 (t + 0.1 t²), so the warp must make it a 400 Hz tone.
  const sweep = Float64Array.from({ length: RATE_HZ }, (_, i) => {
    const t = i / RATE_HZ - 0.5;
    return Math.sin(2 * Math.PI * 400 * (t + 0.1 * t * t));
  });
  const spectrumAt = (chirp: number): { hz: number; share: number } => {
    const block = new Float64Array(4096);
    applyWarp(sweep, RATE_HZ / 2, warpTaps(chirp, RATE_HZ, windowOf("hann", 4096)), block);
    return peakShare(block);
  };

  it("gathers a sweep of that rate in one line at the speed of its middle", () => {
    expect(Math.abs(spectrumAt(0.2).hz - 400)).toBeLessThan(2);
    // A Hann line between bins keeps 2/3 to 1/2 of its power in the highest bin.
    expect(spectrumAt(0.2).share).toBeGreaterThan(0.48);
  });

  it("leaves it smeared at another rate", () => {
    expect(spectrumAt(0).share).toBeLessThan(0.15);
  });
});

describe("fitFamily", () => {
  const line = (lines: readonly (readonly [hz: number, z: number])[]): LineSpectrum => {
    const binHz = 200 / 4096;
    const z = Float64Array.from({ length: 1800 }, (_, k) =>
      Math.max(0, ...lines.map(([hz, top]) => top - ((k * binHz - hz) / 0.085) ** 2 / 0.3)),
    );
    return { z, spread: 0.3, binHz };
  };

  it("places a fundamental by all of its multiples", () => {
    const fit = fitFamily(
      line([
        [7.03, 8],
        [14.06, 8],
        [21.09, 8],
      ]),
      7,
      4,
      0.012,
      0.085,
    );
    expect(Math.abs(fit.hz - 7.03)).toBeLessThan(0.01);
  });

  it("leaves out a line at 3.05 times", () => {
    const fit = fitFamily(
      line([
        [7, 9],
        [14, 6],
        [21.35, 12],
      ]),
      7,
      4,
      0.02,
      0.085,
    );
    expect(Math.abs(fit.hz - 7)).toBeLessThan(0.02);
  });

  // Kay, Estimation Theory (1993), example 3.14: var(f) >= 12 / ((2 pi)² eta N (N² - 1)) per sample²,
  // cited from memory. A 10 s line of eta N = 100 gives 0.0055 / 10 Hz at best.
  it("claims no smaller error than the Cramér-Rao bound", () => {
    const seconds = 10;
    const energy = 100;
    const bound = Math.sqrt(12 / ((2 * Math.PI) ** 2 * energy)) / seconds;
    // One block of one band: ln power of noise spreads by pi / sqrt 6.
    const spectrum = line([[9, Math.log(1 + energy) / 1.2825]]);
    const fit = fitFamily({ ...spectrum, spread: 1.2825 }, 9, 1, 0.012, 0.085);
    expect(fit.error * 9).toBeGreaterThan(bound);
  });
});

describe("oddsTable(expected, stray)", () => {
  const table = oddsTable(0.8, 0.04);

  it("gives a strong line at most ln(expected / stray)", () => {
    expect(tableOdds(table, 50)).toBeCloseTo(Math.log(0.8 / 0.04), 2);
  });

  it("takes off for a missing line, and says nothing of a place outside the recording", () => {
    expect(tableOdds(table, -2)).toBeLessThan(-1);
    expect(tableOdds(table, NaN)).toBe(0);
  });
});

describe("findMainsComb", () => {
  const hum = (multiples: readonly (readonly [number, number])[], hz: number): Float64Array => {
    const random = createRandom(3);
    return Float64Array.from({ length: 12 * RATE_HZ }, (_, i) => {
      let sum = random.normal();
      for (const [k, amplitude] of multiples) {
        sum += amplitude * Math.sin((2 * Math.PI * k * hz * i) / RATE_HZ);
      }
      return sum;
    });
  };

  it.each([
    [50, 50.08],
    [60, 59.92],
  ] as const)("tells %d Hz from a comb of even multiples at %d Hz", (line, exact) => {
    const got = findMainsComb(
      hum(
        [
          [2, 0.3],
          [4, 0.2],
          [6, 0.2],
        ],
        exact,
      ),
      RATE_HZ,
      [80, 3800],
    );
    expect(got.lineHz).toBe(line);
    expect(Math.abs(got.exactHz! - exact)).toBeLessThan(0.04);
  });

  it("hears none in noise, nor in the harmonics of a motor at 110 Hz", () => {
    expect(findMainsComb(hum([], 50), RATE_HZ, [80, 3800]).lineHz).toBeNull();
    const motor = hum(
      [
        [1, 0.5],
        [2, 0.5],
        [3, 0.5],
        [4, 0.5],
      ],
      110,
    );
    expect(findMainsComb(motor, RATE_HZ, [80, 3800]).lineHz).toBeNull();
  });

  it("keeps to a told mains frequency but does not claim to hear it", () => {
    const got = findMainsComb(hum([], 50), RATE_HZ, [80, 3800], 60);
    expect(got).toEqual({ lineHz: 60, exactHz: null, combDb: null });
  });
});

describe("halfRate", () => {
  it("keeps 1 kHz and takes out 6 kHz", () => {
    const tone = (hz: number): Float64Array =>
      Float64Array.from({ length: 4000 }, (_, i) => Math.sin((2 * Math.PI * hz * i) / 16_000));
    const rms = (x: Float64Array): number =>
      Math.sqrt(x.slice(50, -50).reduce((sum, v) => sum + v * v, 0) / (x.length - 100));
    expect(rms(halfRate(tone(1000)))).toBeCloseTo(Math.SQRT1_2, 2);
    expect(rms(halfRate(tone(6000)))).toBeLessThan(0.001);
  });
});

describe("movementOf", () => {
  const line = (from: number, to: number): number[] =>
    Array.from({ length: 20 }, (_, i) => from + ((to - from) * i) / 19);

  it("tells steady, rising, falling, stop-and-go and unknown", () => {
    expect(movementOf(line(15, 15.1))).toBe("steady");
    expect(movementOf(line(6, 15))).toBe("rising");
    expect(movementOf(line(15, 6))).toBe("falling");
    expect(movementOf(line(15, 15).map((hz, i) => (i % 10 < 5 ? hz : null)))).toBe("stop-and-go");
    expect(movementOf([null, null, 12])).toBe("unknown");
  });
});
