import { describe, expect, it } from "vitest";
import { limitsAround, parseTolerance } from "../../../src/inspection/meter/tolerance.js";
import { parseQuantity } from "../../../src/inspection/meter/quantity.js";

describe("parseQuantity(name, text)", () => {
  // Letter in place of the point: examples of IEC 60062 (R15, 15R, 1K5, 4M7), from memory.
  it.each([
    ["R15", 0.15],
    ["15R", 15],
    ["1K5", 1500],
    ["4M7", 4.7e6],
    ["5400", 5400],
    ["5.4k", 5400],
    ["5,4 kΩ", 5400],
    ["5 400 ohms", 5400],
    ["0.2 Ω", 0.2],
    ["10 mohm", 0.01],
    ["1.2M", 1.2e6],
    ["OL", Infinity],
    ["∞", Infinity],
  ])("reads %s as %d ohm", (text, ohm) => {
    const { value, unit } = parseQuantity("--reading", text);
    expect(unit).toBe("ohm");
    if (ohm === Infinity) expect(value).toBe(ohm);
    else expect(value).toBeCloseTo(ohm, 9);
  });

  it("keeps the worth of the last digit shown", () => {
    expect(parseQuantity("--reading", "5.400k").resolution).toBeCloseTo(1, 9);
    expect(parseQuantity("--reading", "5.4k").resolution).toBeCloseTo(100, 9);
    expect(parseQuantity("--reading", "0.20").resolution).toBeCloseTo(0.01, 9);
  });

  it("reads MFD as microfarad and refuses mF", () => {
    expect(parseQuantity("--reading", "30 MFD").value).toBeCloseTo(30e-6, 12);
    expect(() => parseQuantity("--reading", "30mF")).toThrow(/two ways/);
  });

  it.each(["", "abc", "1.2.3", "--4", "5V", "5e999"])("refuses %j", (text) => {
    expect(() => parseQuantity("--reading", text)).toThrow(/--reading/);
  });
});

describe("limitsAround(printed, tolerance)", () => {
  // IEC 60063: the E12 values are spaced so that ±10 % leaves next to nothing between neighbours.
  it("makes E12 values at ±10 % meet each other within 4 %", () => {
    const e12 = [1, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2, 10];
    const bands = e12.map((value) => limitsAround(value, parseTolerance("10%", "ohm")));
    const gaps = bands.slice(1).map(({ low }, i) => low / bands[i]!.high - 1);
    expect(Math.max(...gaps.map(Math.abs))).toBeLessThan(0.04);
  });

  // IEC 60062: J is 5 %, K is 10 %.
  it("knows the tolerance letters", () => {
    expect(limitsAround(100, parseTolerance("J", "farad"))).toEqual({ low: 95, high: 105 });
    expect(limitsAround(100, parseTolerance("K", "farad"))).toEqual({ low: 90, high: 110 });
  });
});
