import { describe, expect, it } from "vitest";
import { kurtosisFromPower, sharedKurtosis } from "../../src/evidence/character/impulses.js";
import { createRandom } from "../../src/foundation/random.js";
import { excessKurtosis } from "../../src/foundation/statistics.js";
import { bandEnvelopes } from "../../src/signal/band-envelope.js";
import { lcgNoise } from "./lcg.js";

const wave = (at: (phase: number) => number): Float64Array =>
  Float64Array.from({ length: 100_000 }, (_, i) => at(((i + 0.5) % 1000) / 1000));

describe("excessKurtosis(x)", () => {
  // Closed forms of the fourth standardised moment, less 3.
  it.each([
    ["a sine", (p: number) => Math.sin(2 * Math.PI * p), -1.5],
    ["a square wave", (p: number) => (p < 0.5 ? 1 : -1), -2],
    ["a triangle", (p: number) => Math.abs(2 * p - 1) - 0.5, -1.2],
    ["a sawtooth", (p: number) => p - 0.5, -1.2],
  ])("of %s is its closed form", (_name, at, expected) => {
    expect(excessKurtosis(wave(at))).toBeCloseTo(expected, 3);
  });

  it("of 4096 uniform samples is scipy.stats.kurtosis's 1.812753 - 3", () => {
    expect(excessKurtosis(lcgNoise(4096))).toBeCloseTo(1.812753 - 3, 5);
  });

  it("of gated Gaussian noise is 3 / duty - 3 (closed form)", () => {
    const random = createRandom(2);
    const x = Float64Array.from({ length: 400_000 }, (_, i) =>
      i % 1000 < 250 ? random.normal() : 0,
    );
    expect(Math.abs(excessKurtosis(x) - 9)).toBeLessThan(0.3);
  });

  it("of a train of decaying bursts is 1.5 a T - 3 (closed form, a T >> 1)", () => {
    const rate = 96_000;
    const x = Float64Array.from({ length: rate }, (_, i) => {
      const t = (i / rate) % 0.02;
      return Math.exp(-500 * t) * Math.sin(2 * Math.PI * 8000 * t);
    });
    expect(Math.abs(excessKurtosis(x) - 12)).toBeLessThan(0.15);
  });
});

describe("kurtosisFromPower(p) and sharedKurtosis(p, q)", () => {
  const rate = 16_384;
  const random = createRandom(8);
  const count = 32 * rate;
  const noise = Float64Array.from({ length: count }, () => random.normal());
  const bands = [
    [1000, 2000],
    [2500, 3500],
  ] as const;

  it("reads 0 for noise and -1.5 for a tone, as the samples themselves", () => {
    const tone = Float64Array.from({ length: count }, (_, i) =>
      Math.sin((2 * Math.PI * 1500 * i) / rate),
    );
    expect(Math.abs(kurtosisFromPower(bandEnvelopes(noise, rate, bands)[0]!.power))).toBeLessThan(
      0.1,
    );
    expect(kurtosisFromPower(bandEnvelopes(tone, rate, [bands[0]])[0]!.power)).toBeCloseTo(-1.5, 1);
  });

  it("agrees on noise whose level jumps: 3 / duty - 3 in one band and shared by two", () => {
    const gated = noise.map((v, i) => (i % 2048 < 512 ? v : 0));
    const [p, q] = bandEnvelopes(gated, rate, bands).map(({ power }) => power);
    expect(Math.abs(kurtosisFromPower(p!) - 9)).toBeLessThan(0.7);
    expect(Math.abs(sharedKurtosis(p!, q!) - 9)).toBeLessThan(0.7);
  });

  it("shares nothing between independent bands, tones among them", () => {
    const mixed = noise.map((v, i) => v + 30 * Math.sin((2 * Math.PI * 1500 * i) / rate));
    const [p, q] = bandEnvelopes(mixed, rate, bands).map(({ power }) => power);
    expect(Math.abs(sharedKurtosis(p!, q!))).toBeLessThan(0.05);
  });
});
