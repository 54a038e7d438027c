import { describe, expect, it } from "vitest";
import { hexagonMm, otherSystem } from "../../../src/inspection/parts/hexagon.js";

describe("hexagons in inch and metric", () => {
  // An inch is 25.4 mm exactly (ISO 31, international yard and pound agreement).
  it.each([
    ["1/4 in", 6.35],
    ["5/16 in", 7.9375],
    ["9/16 in", 14.2875],
    ["3/4 in", 19.05],
    ["1 11/16 in", 42.8625],
    ["10 mm", 10],
  ])("%s is %d mm", (name, mm) => {
    expect(hexagonMm(name)).toBeCloseTo(mm, 6);
  });

  it("refuses what is no size", () => {
    expect(() => hexagonMm("9/16")).toThrow(/9\/16 in/);
  });

  it.each([
    ["5/16 in", "8 mm"],
    ["5/8 in", "16 mm"],
    ["3/4 in", "19 mm"],
    ["8 mm", "5/16 in"],
    ["9/16 in", null],
    ["1/2 in", null],
    ["10 mm", null],
  ])("%s interchanges with %s", (nut, other) => {
    expect(otherSystem(nut).interchanges).toBe(other);
  });

  // Common practice, no source: a 15 mm socket on a 9/16 in nut is 0.71 mm loose; 14 mm will not go on.
  it("warns of 15 mm on a 9/16 in nut", () => {
    const { trap, tight } = otherSystem("9/16 in");
    expect(trap).toMatchObject({ socket: "15 mm", fit: "trap" });
    expect(trap!.gapMm).toBeCloseTo(0.7125, 6);
    expect(tight).toBeNull();
  });
});
