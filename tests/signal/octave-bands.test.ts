import { describe, expect, it } from "vitest";
import { thirdOctave, thirdOctavesWithin } from "../../src/signal/octave-bands.js";

describe("thirdOctave(index)", () => {
  // IEC 61260-1:2014, formulas (1)-(5), base ten: mid-band, lower and upper edge.
  it.each([
    [-10, 100, 89.1251, 112.2018],
    [-4, 398.1072, 354.8134, 446.6836],
    [0, 1000, 891.2509, 1122.0185],
    [1, 1258.9254, 1122.0185, 1412.5375],
    [6, 3981.0717, 3548.1339, 4466.8359],
    [9, 7943.2823, 7079.4578, 8912.5094],
  ])("of %d has the standard's exact frequencies", (index, mid, low, high) => {
    const band = thirdOctave(index);
    expect(band.midHz / mid).toBeCloseTo(1, 6);
    expect(band.lowHz / low).toBeCloseTo(1, 6);
    expect(band.highHz / high).toBeCloseTo(1, 6);
  });

  it("is 0.230768 of its middle wide (closed form)", () => {
    const { lowHz, midHz, highHz } = thirdOctave(3);
    expect((highHz - lowHz) / midHz).toBeCloseTo(0.230768, 6);
  });
});

describe("thirdOctavesWithin(1000, 6000)", () => {
  it("are the bands of nominally 1.25 to 5 kHz", () => {
    const middles = thirdOctavesWithin(1000, 6000).map(({ midHz }) => Math.round(midHz));
    expect(middles).toEqual([1259, 1585, 1995, 2512, 3162, 3981, 5012]);
  });
});
