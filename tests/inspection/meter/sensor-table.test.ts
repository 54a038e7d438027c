import { describe, expect, it } from "vitest";
import { judgeReading } from "../../../src/inspection/meter/judge-reading.js";
import {
  betaBetween,
  celsiusAt,
  ohmAt,
  parseSensorTable,
} from "../../../src/inspection/meter/sensor-table.js";

// A printed table of a washer's sensor, in kiloohm (common practice, no source).
const table = parseSensorTable("0=35.9k,30=9.7k,50=4.6k,60=3.2k");

describe("a sensor's own table", () => {
  // Closed form ln(R1/R2)/(1/T1 − 1/T2) with 0 °C = 273.15 K, worked out apart from this program.
  it("gives the B constants 3612.0 and 3666.7 K between its rows", () => {
    expect(betaBetween(table[0]!, table[1]!)).toBeCloseTo(3612.0, 0);
    expect(betaBetween(table[0]!, table[3]!)).toBeCloseTo(3666.7, 0);
  });

  // IEC 60539-1: R = R25·exp(B(1/T − 1/298.15)); 10 kΩ, B 3950: 3588 Ω at 50 °C (hand calculation).
  it("follows a sensor of constant B exactly between two far rows", () => {
    const r = (celsius: number): number =>
      10_000 * Math.exp(3950 * (1 / (celsius + 273.15) - 1 / 298.15));
    const far = parseSensorTable(`0=${r(0).toFixed(6)},100=${r(100).toFixed(6)}`);
    expect(ohmAt(far, 50)).toBeCloseTo(3588.2, 0);
    expect(celsiusAt(far, 10_000)).toBeCloseTo(25, 3);
  });

  it("guesses nothing beyond its ends", () => {
    expect(ohmAt(table, 61)).toBeNull();
    expect(celsiusAt(table, 50_000)).toBeNull();
  });

  it("reads a file of rows and refuses a slip of the pen", () => {
    expect(parseSensorTable("# sensor\n0, 35.9k\n30, 9.7k\n")).toHaveLength(2);
    expect(() => parseSensorTable("0=35.9k,30=9.7k,50=46k")).toThrow(/slip/);
    expect(() => parseSensorTable("0=35.9k")).toThrow(/two rows/);
    expect(() => parseSensorTable("warm=35.9k,30=9.7k")).toThrow(/temperature=resistance/);
  });

  it("judges a reading at the temperature told", () => {
    const at = (reading: string, temperature: string): string =>
      judgeReading({
        part: "temperature-sensor",
        readings: [reading],
        temperature,
        table: "0=35.9k,30=9.7k,60=3.2k",
        accuracy: "0.5%+2",
        leads: "0.1",
      }).verdict;
    expect(at("9.70k", "30+-0.5")).toBe("pass");
    expect(at("9.70k", "50")).toBe("fail");
    expect(at("10.6k", "30+-1")).toBe("too-close");
    expect(at("9.70k", "70")).toBe("cannot-tell");
  });
});
