import { describe, expect, test } from "vitest";
import { strokeRates } from "../../src/machine/strokes.js";
import { naturalHz, naturalHzFromSag, rodSwingHz } from "../../src/machine/suspension.js";
import { plasterRpm, unbalanceForceN, wallAccelerationG } from "../../src/machine/unbalance.js";

describe("plasterRpm and wallAccelerationG", () => {
  // Closed form w^2 r = g, worked with g = 9.81; standard gravity is 0.03 % less.
  test("stick laundry to a drum of 0.24 m at 61.05 rpm and press it with 386 g at 1200", () => {
    expect(plasterRpm(0.24)).toBeCloseTo(61.05, 1);
    expect(Math.abs(wallAccelerationG(1200, 0.24) / 386.33 - 1)).toBeLessThan(5e-4);
    expect(Math.abs(wallAccelerationG(1400, 0.24) / 525.84 - 1)).toBeLessThan(5e-4);
  });

  test.each([
    [0.2, 67],
    [0.28, 56.5],
  ])("stick it to a drum of %f m at %f rpm", (radius, rpm) => {
    expect(Math.abs(plasterRpm(radius) - rpm)).toBeLessThan(0.3);
  });
});

describe("unbalanceForceN(mass, radius, rpm)", () => {
  // F = m r w^2.
  test.each([
    [0.3, 400, 126.33],
    [0.3, 800, 505.32],
    [0.3, 1000, 789.57],
    [0.3, 1200, 1136.98],
    [0.3, 1400, 1547.55],
    [0.5, 800, 842.2],
    [0.5, 1200, 1894.96],
  ])("pulls %f kg at 0.24 m and %i rpm with %f N", (mass, rpm, newton) => {
    expect(Math.abs(unbalanceForceN(mass, 0.24, rpm) - newton)).toBeLessThan(0.01);
  });
});

describe("naturalHz, naturalHzFromSag, rodSwingHz", () => {
  test("agree: a spring that sags by m g / k swings at the same rate", () => {
    expect(naturalHzFromSag(((50 * 9.80665) / 10_000) * 1000)).toBeCloseTo(
      naturalHz(10_000, 50),
      9,
    );
  });

  // f = 15.8 / sqrt(sag in mm), a rounded rule; pendulum (1 / 2 pi) sqrt(g / l).
  test("give 2.2 Hz for 50 mm of sag, 1.5-3.0 Hz for a front loader's tub, 0.74 Hz for rods of 0.45 m", () => {
    expect(naturalHzFromSag(50)).toBeCloseTo(15.8 / Math.sqrt(50), 1);
    expect(naturalHz(6000, 70)).toBeCloseTo(1.5, 1);
    expect(naturalHz(14_000, 40)).toBeCloseTo(3, 1);
    expect(rodSwingHz(450)).toBeCloseTo(0.743, 3);
  });
});

test("strokeRates of 120 strokes a minute are 2 strokes and 1 full cycle a second", () => {
  expect(strokeRates(120)).toEqual({ strokes: 2, cycles: 1 });
});
