import { describe, expect, it } from "vitest";
import { judgeReading } from "../../../src/inspection/meter/judge-reading.js";
import type { MeterRequest } from "../../../src/inspection/meter/meter-reading.js";

const judge = (request: Partial<MeterRequest>) =>
  judgeReading({ part: "drain-pump", readings: ["5400"], ...request });
const verdict = (request: Partial<MeterRequest>): string => judge(request).verdict;
const codes = (request: Partial<MeterRequest>): string[] => {
  const { notes, asks } = judge(request);
  return [...notes, ...asks].map(({ code }) => code);
};

describe("judgeReading of a coil", () => {
  // Common practice, no source: 5700 ohm printed accepts 5130 to 6270 ohm.
  it("accepts 5130 to 6270 ohm where 5700 is printed", () => {
    expect(judge({ printed: "5700" }).accepts).toEqual({ low: 5130, high: 6270 });
  });

  it("takes leads off and says between which values the part lies", () => {
    // By hand: 5400 − 0.2 = 5399.8; 0.8 % of 5400 + 3·1 = 46.2; leads 0.8 % of 0.2 + 3·0.1 = 0.3016.
    const [one] = judge({
      printed: "5700",
      accuracy: "0.8%+3",
      resolution: "1",
      leads: "0.2",
    }).reading.measured;
    expect(one!.value).toBeCloseTo(5399.8, 6);
    expect(one!.low).toBeCloseTo(5399.8 - 46.5016, 6);
    expect(one!.high).toBeCloseTo(5399.8 + 46.5016, 6);
    // JCGM 100:2008, 4.3.7: limits ±a evenly spread are a/√3; 5.1.2: root sum of squares.
    expect(one!.standardUncertainty).toBeCloseTo(Math.sqrt(46.2 ** 2 + 0.3016 ** 2) / 1.7320508, 4);
  });

  // JCGM 106:2012, clause 8: guard bands of the measurement's own width on both sides.
  it.each([
    ["5000", "fail"],
    ["5083", "fail"],
    ["5090", "too-close"],
    ["5130", "too-close"],
    ["5174", "too-close"],
    ["5180", "pass"],
    ["6210", "pass"],
    ["6270", "too-close"],
    ["6330", "fail"],
    ["OL", "fail"],
  ])("says of %s ohm at 0.8 %% + 3 counts: %s", (reading, expected) => {
    const request = { printed: "5700", accuracy: "0.8%+3", fitted: "original" as const };
    expect(verdict({ ...request, readings: [reading] })).toBe(expected);
  });

  it("assumes no perfect meter when none was told, and says so", () => {
    expect(verdict({ printed: "5700", readings: ["5131"] })).toBe("too-close");
    expect(codes({ printed: "5700", readings: ["5131"] })).toContain("accuracy-assumed");
  });

  // Common practice, no source: at the very edge, in an old part, replace.
  it("advises to replace an old part at the edge, and asks the age when it was not told", () => {
    const edge = (ageYears?: number) =>
      judge({
        printed: "5700",
        readings: ["5140"],
        ...(ageYears === undefined ? {} : { ageYears }),
      }).notes.find(({ code }) => code === "edge")?.text;
    expect(edge(10)).toMatch(/replace it/);
    expect(edge(1)).not.toMatch(/replace/);
    expect(edge()).toMatch(/--age/);
    expect(codes({ printed: "5700", readings: ["5600"] })).not.toContain("edge");
  });

  it("takes a range or the sheet's own tolerance as it stands", () => {
    expect(judge({ printed: "750-850", readings: ["812"] }).accepts).toEqual({
      low: 750,
      high: 850,
    });
    expect(verdict({ printed: "5700", tolerance: "5%", readings: ["5200"] })).toBe("fail");
    expect(verdict({ printed: "5700", tolerance: "-15/+5%", readings: ["5000"] })).toBe("pass");
    expect(judge({ printed: "5.7k", tolerance: "200ohm" }).accepts).toEqual({
      low: 5500,
      high: 5900,
    });
  });

  it("says that warmth may explain a coil a little too high, copper 0.393 % a kelvin (IEC 60028)", () => {
    // 230 over a limit of 220: (230/220 − 1)/0.00393 = 11.6 K.
    const note = judge({ printed: "200", readings: ["230"] }).notes.find(
      ({ code }) => code === "warm-coil",
    );
    expect(note?.text).toContain("12 °C");
    expect(codes({ printed: "200", readings: ["400"] })).not.toContain("warm-coil");
  });
});

describe("judgeReading and the part that is fitted", () => {
  // Common practice, no source: about 3700 ohm from another make in place of 5700 ohm.
  const other = { readings: ["3700"], printed: "5700" };

  it("asks whose value it is when nobody said", () => {
    expect(codes(other)).toContain("fitted");
    expect(codes({ ...other, fitted: "original" })).not.toContain("fitted");
  });

  it("does not condemn another make's part by the original's value", () => {
    expect(verdict({ ...other, fitted: "original" })).toBe("fail");
    expect(verdict({ ...other, fitted: "other-make" })).toBe("cannot-tell");
    expect(verdict({ ...other, fitted: "other-make", printedOn: "machine" })).toBe("cannot-tell");
    expect(codes({ ...other, fitted: "other-make" })).toContain("own-value");
  });

  it("does not pass it by the machine's sheet either", () => {
    const request = { readings: ["5700"], printed: "5700", fitted: "other-make" as const };
    expect(verdict({ ...request, printedOn: "machine" })).toBe("cannot-tell");
  });

  it("judges it by its own value", () => {
    const own = { fitted: "other-make", printedOn: "part", printed: "3700" } as const;
    expect(verdict({ ...own, readings: ["3650"] })).toBe("pass");
    expect(verdict({ ...own, readings: ["4400"] })).toBe("fail");
  });

  it("fails an open coil whoever made it", () => {
    expect(verdict({ ...other, readings: ["OL"], fitted: "other-make" })).toBe("fail");
  });
});

describe("judgeReading of contacts", () => {
  // Common practice, no source: a closed pair reads near 0 ohm, 0.01 seen; over 1 is no clean contact.
  it.each([
    ["0.01", "pass"],
    ["0.4", "pass"],
    ["3.0", "too-close"],
    ["20.0", "fail"],
    ["OL", "fail"],
  ])("says of a closed pair at %s ohm: %s", (reading, expected) => {
    expect(verdict({ part: "shift-switch", readings: [reading], leads: "0.1" })).toBe(expected);
  });

  it("keeps leads that nobody measured in mind", () => {
    const at = (leads?: string) =>
      verdict({
        part: "door-switch",
        readings: ["5.30"],
        accuracy: "0.5%+2",
        ...(leads === undefined ? {} : { leads }),
      });
    expect(at()).toBe("too-close");
    expect(at("0.05")).toBe("fail");
  });

  it("wants an open pair open, and defers the insulation test", () => {
    expect(verdict({ part: "door-switch", kind: "open", readings: ["OL"] })).toBe("pass");
    expect(verdict({ part: "door-switch", kind: "open", readings: ["20k"] })).toBe("fail");
    expect(verdict({ part: "heater", kind: "earth", readings: ["0.3M"] })).toBe("fail");
    expect(codes({ part: "heater", kind: "earth", readings: ["OL"] })).toContain("earth-test");
  });
});

describe("judgeReading of windings and capacitors", () => {
  const windings = (...readings: string[]) => verdict({ part: "direct-drive-stator", readings });

  // Common practice, no source: 8 ohm between any two leads, equal within 10 %.
  it.each([
    [["8.1", "8.0", "8.2"], "pass"],
    [["8.0", "8.0", "6.0"], "fail"],
    [["8.00", "8.00", "8.90"], "too-close"],
    [["8.0", "OL", "8.0"], "fail"],
  ])("says of %j: %s", (readings, expected) => {
    expect(windings(...readings)).toBe(expected);
  });

  it("compares equal windings with the sheet as well", () => {
    const request = { part: "direct-drive-stator", fitted: "original", leads: "0.10" } as const;
    const readings = ["4.00", "4.01", "4.02"];
    expect(verdict({ ...request, readings, printed: "8" })).toBe("fail");
    expect(verdict({ ...request, readings, printed: "4" })).toBe("pass");
  });

  // Common practice, no source: within 10 % of the marking.
  it.each([
    ["12.4uF", "pass"],
    ["10.2uF", "fail"],
    ["11.2 MFD", "too-close"],
  ])("says of a 12.5 µF capacitor that reads %s: %s", (reading, expected) => {
    const request = { part: "motor-capacitor", printed: "12.5uF", accuracy: "1%+3" };
    expect(verdict({ ...request, readings: [reading] })).toBe(expected);
  });
});

describe("judgeReading of what cannot be used", () => {
  it.each([
    [{ part: "pump" }, /drain-pump, .*received "pump"/],
    [{}, /--printed is missing/],
    [{ printed: "0" }, /more than 0/],
    [{ printed: "5700", readings: ["5,400"] }, /two ways/],
    [{ printed: "5700", readings: ["5m"] }, /M \(million\)/],
    [{ printed: "5700", readings: ["12uF"] }, /in ohm/],
    [{ printed: "5700", tolerance: "10" }, /percentage/],
    [{ printed: "5700", accuracy: "good" }, /0\.8%\+3/],
    [{ printed: "5700", table: "0=1k,1=2k" }, /--table belongs to sensor/],
    [{ part: "motor-windings" }, /three pairs/],
    [{ part: "door-switch", readings: ["0.1"], leads: "3.00" }, /leads/],
    [{ part: "motor-capacitor", readings: ["12"], printed: "12.5uF" }, /such as 12\.1uF/],
  ])("refuses %j and says why", (request, message) => {
    expect(() => judge(request as Partial<MeterRequest>)).toThrow(message);
  });
});
