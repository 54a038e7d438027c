import { describe, expect, it } from "vitest";
import { rowsToAngle, toAngle, turnClock } from "../../src/signal/angular.js";
import { bandEnvelopes } from "../../src/signal/band-envelope.js";
import { resample } from "../../src/signal/resample.js";
import { runningMedian } from "../../src/signal/running-median.js";
import { blockPower, welch } from "../../src/signal/spectrum.js";
import { coherentGain, noiseBandwidthBins, windowOf } from "../../src/signal/window.js";
import { createRandom } from "../../src/foundation/random.js";
import { mean, median } from "../../src/foundation/statistics.js";

const sine = (n: number, cyclesPerSample: number, amplitude = 1): Float64Array =>
  Float64Array.from(
    { length: n },
    (_, i) => amplitude * Math.sin(2 * Math.PI * cyclesPerSample * i),
  );

describe("windows", () => {
  // Harris, Proc. IEEE 66 (1978), Table I: coherent gain and equivalent noise bandwidth.
  it.each([
    ["hann", 0.5, 1.5],
    ["hamming", 0.54, 1.36],
    ["blackman", 0.42, 1.73],
    ["blackman-harris", 0.36, 2.0],
  ] as const)("%s has the tabled gain and noise bandwidth", (name, gain, bandwidth) => {
    const window = windowOf(name, 4096);
    expect(coherentGain(window)).toBeCloseTo(gain, 2);
    expect(Math.abs(noiseBandwidthBins(window) - bandwidth)).toBeLessThan(0.006);
  });
});

describe("welch(noise)", () => {
  it("integrates to the variance of white noise", () => {
    const random = createRandom(5);
    const noise = Float64Array.from({ length: 200_000 }, () => 0.3 * random.normal());
    const { values, binHz } = welch(noise, 16_000);
    expect(values.reduce((sum, v) => sum + v, 0) * binHz).toBeCloseTo(0.09, 2);
  });

  it("keeps Parseval's theorem in one rectangular block", () => {
    // Worked by hand: x = [1,2,3,4], Σx² = 30, |X|² = 100, 8, 4, 8.
    const power = blockPower([1, 2, 3, 4], 0, 4, 4, "rectangle");
    expect(Array.from(power)).toEqual([100, 8, 4].map((v) => expect.closeTo(v, 9) as number));
  });
});

describe("resample(x, 48000, 16000)", () => {
  it("keeps a 3 kHz tone and removes a 10 kHz one by 70 dB", () => {
    const kept = resample(sine(48_000, 3000 / 48_000), 48_000, 16_000);
    const gone = resample(sine(48_000, 10_000 / 48_000), 48_000, 16_000);
    const inner = (x: Float64Array): number => mean(x.slice(500, -500).map((v) => v * v));
    expect(inner(kept)).toBeCloseTo(0.5, 2);
    expect(10 * Math.log10(inner(gone) / 0.5)).toBeLessThan(-70);
  });

  it("keeps time: sample m of the result is sample 3m of the input", () => {
    const x = sine(48_000, 200 / 48_000);
    const y = resample(x, 48_000, 16_000);
    for (const m of [1000, 5000, 9000]) expect(y[m]).toBeCloseTo(x[3 * m]!, 3);
  });

  it("turns 44.1 kHz into 16 kHz without moving the pitch", () => {
    const y = resample(sine(44_100, 1000 / 44_100), 44_100, 16_000);
    const truth = sine(16_000, 1000 / 16_000);
    for (const m of [2000, 7001, 12_345]) expect(y[m]).toBeCloseTo(truth[m]!, 2);
  });
});

describe("bandEnvelopes(x)", () => {
  it("reads the closed form of an amplitude-modulated tone", () => {
    // (1 + 0.6 cos 2π50t) cos 2π2000t: squared envelope has mean 1.18 and a 50 Hz line of 1.2.
    const rate = 16_384;
    const x = Float64Array.from({ length: rate }, (_, i) => {
      const t = i / rate;
      return (1 + 0.6 * Math.cos(2 * Math.PI * 50 * t)) * Math.cos(2 * Math.PI * 2000 * t);
    });
    const [band] = bandEnvelopes(x, rate, [[1000, 3000]]);
    const { power, sampleRateHz } = band!;
    expect(mean(power)).toBeCloseTo(1.18, 2);
    let re = 0;
    let im = 0;
    power.forEach((p, i) => {
      re += p * Math.cos((2 * Math.PI * 50 * i) / sampleRateHz);
      im += p * Math.sin((2 * Math.PI * 50 * i) / sampleRateHz);
    });
    expect((2 * Math.hypot(re, im)) / power.length).toBeCloseTo(1.2, 1);
  });
});

describe("toAngle(x, clock)", () => {
  it("turns a run-up into pure orders (closed form: 5 to 20 Hz in 30 s is 375 turns)", () => {
    const rate = 2000;
    const speed = Float64Array.from({ length: 30 * rate + 1 }, (_, i) => 5 + (0.5 * i) / rate);
    const clock = turnClock(speed, rate);
    const total = clock.turns[clock.turns.length - 1]!;
    expect(total).toBeCloseTo(375, 6);
    const x = clock.turns.map((t) => Math.cos(2 * Math.PI * t) + 0.5 * Math.cos(4 * Math.PI * t));
    const angle = toAngle(x, rate, clock, 64);
    const amplitude = (order: number): number => {
      let re = 0;
      let im = 0;
      angle.forEach((v, m) => {
        re += v * Math.cos((2 * Math.PI * order * m) / 64);
        im += v * Math.sin((2 * Math.PI * order * m) / 64);
      });
      return (2 * Math.hypot(re, im)) / angle.length;
    };
    expect(amplitude(1)).toBeCloseTo(1, 2);
    expect(amplitude(2)).toBeCloseTo(0.5, 2);
    expect(amplitude(3)).toBeLessThan(0.01);
  });
});

describe("rowsToAngle(rows, clock)", () => {
  // Closed form: cubic (Catmull-Rom) interpolation gives back parabolas, but for the first and last sample.
  it("reads several rows at the same angles, as one row is read", () => {
    const rate = 100;
    const clock = turnClock(new Float64Array(201).fill(2.5), rate);
    const seconds = Float64Array.from({ length: 201 }, (_, i) => i / rate);
    const rows = [seconds.map((t) => t * t), seconds.map((t) => 3 - t)];
    const [parabola, line] = rowsToAngle(rows, rate, clock, 37);
    expect(parabola).toHaveLength(2 * 2.5 * 37);
    for (let m = 2; m < parabola!.length - 2; m++) {
      const t = m / (2.5 * 37);
      expect(parabola![m]).toBeCloseTo(t * t, 9);
      expect(line![m]).toBeCloseTo(3 - t, 9);
    }
    const alone = toAngle(rows[0]!, rate, clock, 37);
    expect(Math.max(...alone.map((v, m) => Math.abs(v - parabola![m]!)))).toBeLessThan(1e-12);
  });
});

describe("runningMedian(x, h)", () => {
  it("equals the sort-based median of every window", () => {
    const random = createRandom(9);
    const x = Array.from({ length: 60 }, () => random.integer(0, 5));
    const fast = runningMedian(x, 4);
    x.forEach((_, i) => {
      expect(fast[i]).toBe(median(x.slice(Math.max(0, i - 4), i + 5)));
    });
  });
});
