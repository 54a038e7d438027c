import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { excessKurtosis } from "../../src/foundation/statistics.js";
import { bandEnvelopes } from "../../src/signal/band-envelope.js";
import { butterworth, filterThrough } from "../../src/signal/butterworth.js";
import { resample } from "../../src/signal/resample.js";
import { runningMedian } from "../../src/signal/running-median.js";
import { welch } from "../../src/signal/spectrum.js";
import { windowOf } from "../../src/signal/window.js";
import { lcgNoise } from "./lcg.js";

type Tones = readonly (readonly [hz: number, amplitude: number, phase: number])[];

// Written by scipy-reference.py beside this file; tool, version and call stand in it.
const reference = JSON.parse(
  readFileSync(new URL("./scipy-reference.json", import.meta.url), "utf8"),
) as {
  version: string;
  tones: Tones;
  tones48k: Tones;
  rows: Record<string, { call: string; values: number[] }>;
};

const noise = lcgNoise(2048);
const RATE_HZ = 16_000;

const tones = (count: number, rateHz: number, table: Tones): Float64Array =>
  Float64Array.from({ length: count }, (_, i) =>
    table.reduce((sum, [hz, a, p]) => sum + a * Math.cos((2 * Math.PI * hz * i) / rateHz + p), 0),
  );

/** Largest difference from the reference row, and the row's largest value. */
function differenceFrom(name: string, values: ArrayLike<number>): number {
  const wanted = reference.rows[name]!.values;
  expect(values.length).toBe(wanted.length);
  const largest = Math.max(...wanted.map(Math.abs));
  return Math.max(...wanted.map((value, i) => Math.abs(value - values[i]!))) / largest;
}

describe(`figures of scipy ${reference.version}`, () => {
  it.each(["hann", "flat-top"] as const)("windowOf(%s, 16)", (name) => {
    expect(differenceFrom(name, windowOf(name, 16))).toBeLessThan(1e-8);
  });

  it("welch(noise) has scipy's density, bin by bin", () => {
    const { values, binHz } = welch(noise, RATE_HZ, { segmentLength: 256 });
    expect(binHz).toBe(62.5);
    expect(differenceFrom("welch", values)).toBeLessThan(1e-7);
  });

  it.each([
    ["low-pass", "low", 700],
    ["high-pass", "high", 6000],
  ] as const)("butterworth of order 4, %s, filters as scipy's sections do", (name, kind, hz) => {
    const out = filterThrough(noise, butterworth(kind, 4, hz / RATE_HZ));
    expect(differenceFrom(name, out.slice(200, 232))).toBeLessThan(1e-7);
  });

  it("runningMedian(noise, 4) is a median filter of 9", () => {
    expect(differenceFrom("running-median", runningMedian(noise, 4).slice(100, 132))).toBeLessThan(
      1e-8,
    );
  });

  it("bandEnvelopes(tones) is the squared Hilbert envelope, sampled every fourth place", () => {
    const [band] = bandEnvelopes(tones(8192, RATE_HZ, reference.tones), RATE_HZ, [[500, 3500]]);
    expect(band!.sampleRateHz).toBe(4000);
    expect(differenceFrom("envelope", band!.power.slice(250, 314))).toBeLessThan(1e-6);
  });

  it("resample(48 kHz to 16 kHz) agrees with a polyphase Kaiser design", () => {
    const out = resample(tones(9600, 48_000, reference.tones48k), 48_000, RATE_HZ);
    expect(differenceFrom("resample", out.slice(1000, 1032))).toBeLessThan(3e-3);
  });

  it("excessKurtosis(noise) is scipy's biased Fisher kurtosis", () => {
    expect(differenceFrom("kurtosis", [excessKurtosis(noise)])).toBeLessThan(1e-7);
  });
});
