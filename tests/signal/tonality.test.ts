import { describe, expect, it } from "vitest";
import { createRandom } from "../../src/foundation/random.js";
import { welch } from "../../src/signal/spectrum.js";
import {
  criticalBand,
  findTones,
  toneCriterionDb,
  toneToNoiseDb,
} from "../../src/signal/tonality.js";

describe("criticalBand(hz)", () => {
  // ECMA-418-1:2024 clause 10: printed examples 117.3 Hz at 500 Hz, 162.2 Hz at 1 kHz, edges 922.2 and
  // 1084.4 Hz; the other rows from its formulas.
  it.each([
    [100, 100.723, 49.639, 150.361],
    [250, 104.469, 197.766, 302.234],
    [500, 117.255, 444.798, 562.053],
    [850, 146.476, 779.911, 926.387],
    [1000, 162.217, 922.176, 1084.392],
    [4000, 685.42, 3671.944, 4357.364],
    [8000, 1705.659, 7192.499, 8898.159],
  ])("of %d Hz has the standard's width and edges", (hz, width, low, high) => {
    const band = criticalBand(hz);
    expect(Math.abs(band.widthHz - width)).toBeLessThan(0.05);
    expect(Math.abs(band.lowHz - low)).toBeLessThan(0.05);
    expect(Math.abs(band.highHz - high)).toBeLessThan(0.05);
  });

  // DIN 45681:2005-03 Table A.1, whole hertz.
  it.each([
    [150, 102],
    [570, 122],
    [1170, 182],
    [1850, 277],
    [2900, 460],
    [5800, 1111],
    [10500, 2463],
  ])("of %d Hz agrees with the table of DIN 45681", (hz, width) => {
    expect(Math.abs(criticalBand(hz).widthHz - width)).toBeLessThan(0.6);
  });
});

describe("toneCriterionDb(hz)", () => {
  // ECMA-418-1:2024 formulas (12) and (13).
  it.each([
    [100, 16.33],
    [250, 13.0152],
    [500, 10.5076],
    [1000, 8],
    [4000, 8],
  ])("of %d Hz is the standard's", (hz, db) => {
    expect(toneCriterionDb(hz)).toBeCloseTo(db, 3);
  });
});

describe("toneToNoiseDb(tone, noise)", () => {
  const rate = 48_000;
  const worked = (tonesHz: readonly number[], seconds: number): Float64Array => {
    const random = createRandom(11);
    return Float64Array.from({ length: seconds * rate }, (_, i) => {
      let x = 0.05 * random.normal();
      for (const hz of tonesHz) x += 0.1 * Math.SQRT2 * Math.sin((2 * Math.PI * hz * i) / rate);
      return x;
    });
  };

  it("reads the closed form of a tone in white noise: 27.72 dB", () => {
    // Tone of RMS 0.1 at 1 kHz in noise of RMS 0.05 over 24 kHz; noise in the critical band of 162.217 Hz:
    // 10 lg(0.1² / (0.05² / 24000 * 162.217)) = 27.72. Definition: ECMA-418-1.
    const spectrum = welch(worked([1000], 16), rate, { segmentLength: 16_384 });
    const { tones, noise } = findTones(spectrum, { fromHz: 200, toHz: 8000 });
    expect(tones).toHaveLength(1);
    expect(Math.abs(tones[0]!.hz - 1000)).toBeLessThan(0.3);
    expect(Math.abs(toneToNoiseDb(tones[0]!, noise) - 27.7218)).toBeLessThan(0.4);
  });

  it("does not count a neighbouring tone as noise", () => {
    const spectrum = welch(worked([1000, 1060], 8), rate, { segmentLength: 16_384 });
    const { tones, noise } = findTones(spectrum, { fromHz: 200, toHz: 8000 });
    expect(tones).toHaveLength(2);
    for (const tone of tones) {
      expect(Math.abs(toneToNoiseDb(tone, noise) - 27.72)).toBeLessThan(0.6);
    }
  });

  it("finds no tone in noise whose level tilts by 12 dB an octave", () => {
    const random = createRandom(4);
    let slow = 0;
    const x = Float64Array.from(
      { length: 8 * rate },
      () => (slow += 0.01 * (random.normal() - slow)),
    );
    const spectrum = welch(x, rate, { segmentLength: 16_384 });
    expect(findTones(spectrum, { fromHz: 90, toHz: 8000 }).tones).toHaveLength(0);
  });
});
