import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  bearingMultiples,
  bearingRates,
  type BearingGeometry,
} from "../../src/machine/bearing-rates.js";
import { bearingFromMultiples } from "../../src/machine/bearing-from-multiples.js";
import { bearingFamilies, findBearing, geometryOf } from "../../src/machine/bearing-families.js";
import { BEARINGS } from "../../src/machine/bearings.data.js";

interface Printed {
  readonly source: string;
  readonly geometry: BearingGeometry;
  /** Cage, outer, inner, ball spin, ball strikes; null where the source prints none. */
  readonly multiples: readonly (number | null)[];
  readonly within: number;
  /** The ball's own rate is the least exactly printed. */
  readonly ballWithin?: number;
}

const CWRU = "Case Western Reserve University, bearing information page";
const TIMKEN = "Timken, Ball Bearing Housed Units catalogue, page A-13, table A-9";

const PRINTED: readonly Printed[] = [
  {
    // "Rolling element" 4.7135 is printed there: the strikes, not the spin.
    source: `${CWRU}, 6205 drive end`,
    geometry: { balls: 9, ball: 0.3126, pitch: 1.537 },
    multiples: [0.39828, 3.5848, 5.4152, null, 4.7135],
    within: 0.0002,
  },
  {
    source: `${CWRU}, 6203 fan end`,
    geometry: { balls: 8, ball: 0.2656, pitch: 1.122 },
    multiples: [0.3817, 3.053, 4.9469, null, 3.9874],
    within: 0.0005,
  },
  {
    source: `${TIMKEN}, 203K`,
    geometry: { balls: 8, ball: 6.7469, pitch: 28.5 },
    multiples: [0.382, 3.053, 4.947, 1.994, null],
    within: 0.001,
    ballWithin: 0.002,
  },
  {
    source: `${TIMKEN}, 204K`,
    geometry: { balls: 8, ball: 7.9375, pitch: 33.5 },
    multiples: [0.382, 3.052, 4.948, 1.992, null],
    within: 0.001,
    ballWithin: 0.002,
  },
  {
    source: `${TIMKEN}, 205K`,
    geometry: { balls: 9, ball: 7.9375, pitch: 38.6 },
    multiples: [0.397, 3.574, 5.426, 2.328, null],
    within: 0.001,
    ballWithin: 0.002,
  },
  {
    source: `${TIMKEN}, 206K`,
    geometry: { balls: 9, ball: 9.525, pitch: 46 },
    multiples: [0.396, 3.568, 5.432, 2.311, null],
    within: 0.001,
    ballWithin: 0.002,
  },
  {
    source: `${TIMKEN}, 207K`,
    geometry: { balls: 9, ball: 11.1125, pitch: 53.5 },
    multiples: [0.396, 3.565, 5.435, 2.303, null],
    within: 0.001,
    ballWithin: 0.002,
  },
  {
    source: `${TIMKEN}, 208K`,
    geometry: { balls: 9, ball: 12.7, pitch: 60 },
    multiples: [0.394, 3.547, 5.453, 2.256, null],
    within: 0.001,
    ballWithin: 0.002,
  },
  {
    source: "Curtin University bearing data set, readme (Forbes, 2012), ER-16K",
    geometry: { balls: 9, ball: 7.9375, pitch: 38.5 },
    multiples: [0.3969, 3.572, 5.428, 2.32, null],
    within: 0.0006,
    ballWithin: 0.003,
  },
  {
    source: "NPTEL course 112103024, module 15 lecture 2, example 15.2 (inputs), ER-10K",
    geometry: { balls: 8, ball: 0.3125, pitch: 1.319 },
    multiples: [0.3815, 3.0523, 4.9477, 1.9919, 3.9839],
    within: 0.001,
  },
];

interface Example {
  readonly source: string;
  readonly geometry: BearingGeometry;
  readonly shaftHz: number;
  /** Cage, outer, inner, ball spin, ball strikes in Hz. */
  readonly hz: readonly (number | null)[];
  readonly within: number;
}

const EXAMPLES: readonly Example[] = [
  {
    source: "Curtin University bearing data set, readme (Forbes, 2012), 29 Hz",
    geometry: { balls: 9, ball: 7.9375, pitch: 38.5 },
    shaftHz: 29,
    hz: [11.511, 103.595, 157.405, 67.341, 134.683],
    within: 0.02,
  },
  {
    // Contact angle not zero: a rate without its cosine is off by 4 %.
    source: "Qiu et al., J. Sound Vib. 289 (2006), rig geometry; 236.4 and 296.9 Hz usually quoted",
    geometry: { balls: 16, ball: 0.331, pitch: 2.815, contactDeg: 15.17 },
    shaftHz: 2000 / 60,
    hz: [14.775, 236.403, 296.93, 139.917, 279.833],
    within: 0.02,
  },
  {
    source: "Wang et al., IEEE Trans. Reliability 69(1), 2020; Lei et al., 2019, table 1, UER204",
    geometry: { balls: 8, ball: 7.92, pitch: 34.55 },
    shaftHz: 2100 / 60,
    hz: [13.488, 107.907, 172.093, 72.33, 144.66],
    within: 0.005,
  },
  {
    source: "MFPT fault data sets (Bechhoefer), geometry of the description, 25 Hz",
    geometry: { balls: 8, ball: 0.235, pitch: 1.245 },
    shaftHz: 25,
    hz: [10.141, 81.124, 118.876, 63.864, 127.728],
    within: 0.01,
  },
  {
    source: "MathWorks bearingFaultBands documentation example (inputs only)",
    geometry: { balls: 8, ball: 2, pitch: 12, contactDeg: 15 },
    shaftHz: 25,
    hz: [10.488, 83.901, 116.099, 73.056, 146.112],
    within: 0.01,
  },
  {
    source: "round numbers, by hand: 8 balls, d/D = 1/5, 1800 rpm",
    geometry: { balls: 8, ball: 10, pitch: 50 },
    shaftHz: 30,
    hz: [12, 96, 144, 72, 144],
    within: 1e-9,
  },
  {
    source: `${CWRU}, 6205 at 1772 rpm (record 235)`,
    geometry: { balls: 9, ball: 0.3126, pitch: 1.537 },
    shaftHz: 1772 / 60,
    hz: [11.762, 105.87, 159.93, null, 139.21],
    within: 0.02,
  },
];

const NAMES = ["cage", "outer", "inner", "ballSpin", "ballStrikes"] as const;

describe("bearingMultiples(geometry)", () => {
  test.each(PRINTED)("gives the multiples printed by $source", (row) => {
    const rates = bearingMultiples(row.geometry);
    NAMES.forEach((name, i) => {
      const printed = row.multiples[i];
      if (printed == null) return;
      const within = name === "ballSpin" ? (row.ballWithin ?? row.within) : row.within;
      expect(Math.abs(rates[name] - printed), name).toBeLessThanOrEqual(within);
    });
  });
});

describe("bearingRates(geometry, innerHz, outerHz)", () => {
  test.each(EXAMPLES)("gives the frequencies of $source", (row) => {
    const rates = bearingRates(row.geometry, row.shaftHz);
    NAMES.forEach((name, i) => {
      const hz = row.hz[i];
      if (hz == null) return;
      expect(Math.abs(rates[name] - hz), name).toBeLessThanOrEqual(row.within);
    });
  });

  // Timken catalogue, page A-13, worked example: bearing 9104, retainer 0.398 x 1200 rpm = 7.96 Hz.
  test("turns the cage of a 6004 at 7.96 Hz at 1200 rpm", () => {
    const { cage } = bearingRates(geometryOf(findBearing("6004")!), 20);
    expect(cage).toBeCloseTo(7.96, 1);
  });

  const geometries = fc.record({
    balls: fc.integer({ min: 5, max: 20 }),
    ball: fc.double({ min: 1, max: 10, noNaN: true }),
    pitch: fc.double({ min: 25, max: 100, noNaN: true }),
    contactDeg: fc.double({ min: 0, max: 40, noNaN: true }),
  });
  const speed = fc.double({ min: 0.1, max: 300, noNaN: true });

  test("obeys the kinematic identities (Harris and Kotzalas) for any geometry and speed", () => {
    fc.assert(
      fc.property(geometries, speed, (geometry, hz) => {
        const rates = bearingRates(geometry, hz);
        expect(rates.outer + rates.inner).toBeCloseTo(geometry.balls * hz, 8);
        expect(rates.outer).toBeCloseTo(geometry.balls * rates.cage, 8);
        expect(rates.inner).toBeCloseTo(geometry.balls * (hz - rates.cage), 8);
        expect(rates.ballStrikes).toBeCloseTo(2 * rates.ballSpin, 8);
      }),
    );
  });

  test("turns the cage at (f/2)(1 + (d/D) cos a) and strikes as often when the outer ring turns", () => {
    const geometry = { balls: 8, ball: 10, pitch: 50 };
    const held = bearingRates(geometry, 0, 30);
    expect(held.cage).toBeCloseTo(18, 9);
    expect(held.outer).toBeCloseTo(96, 9);
    expect(held.inner).toBeCloseTo(144, 9);
  });

  test("strikes nothing when both rings turn together, and adds their speeds when they oppose", () => {
    const geometry = { balls: 8, ball: 10, pitch: 50 };
    const together = bearingRates(geometry, 30, 30);
    expect(together.outer).toBe(0);
    expect(together.cage).toBeCloseTo(30, 9);
    expect(bearingRates(geometry, 20, -10).outer).toBeCloseTo(96, 9);
  });
});

describe("the table of bearings", () => {
  // Rows printed in table form (contact angle 0, inner ring turning): multiples outer, inner, strikes.
  // Ball data recalled, pitch (bore + outside) / 2; within the 1.5 % by which makes differ.
  test.each([
    ["6202", 3.048, 4.952, 3.961],
    ["6203", 3.0531, 4.9469, 3.9874],
    ["6204", 3.0522, 4.9478, 3.9833],
    ["6205", 3.585, 5.415, 4.7148],
    ["6206", 3.5682, 5.4318, 4.6223],
    ["6207", 3.5653, 5.4347, 4.6069],
    ["6208", 3.6, 5.4, 4.8],
    ["6201", 2.553, 4.447, 3.425],
    ["6006", 4.575, 6.425, 5.781],
  ])("gives %s its usual multiples", (designation, outer, inner, strikes) => {
    const rates = bearingMultiples(geometryOf(findBearing(designation)!));
    expect(rates.outer).toBeCloseTo(outer, 3);
    expect(rates.inner).toBeCloseTo(inner, 3);
    expect(rates.ballStrikes).toBeCloseTo(strikes, 2);
  });

  test("raises the outer rate of a 6206 to 3.582, 3.600 and 3.656 at 10, 15 and 25 degrees", () => {
    const flat = geometryOf(findBearing("6206")!);
    const outerAt = (contactDeg: number): number => bearingMultiples({ ...flat, contactDeg }).outer;
    expect(outerAt(10)).toBeCloseTo(3.582, 3);
    expect(outerAt(15)).toBeCloseTo(3.6, 3);
    expect(outerAt(25)).toBeCloseTo(3.656, 3);
  });

  test("fits balls between the rings and keeps the pitch near (bore + outside) / 2", () => {
    for (const row of BEARINGS) {
      expect(row.pitchMm - row.ballMm, row.designation).toBeGreaterThan(row.boreMm);
      expect(row.pitchMm + row.ballMm, row.designation).toBeLessThan(row.outsideMm);
      expect(Math.abs(row.pitchMm / ((row.boreMm + row.outsideMm) / 2) - 1)).toBeLessThan(0.02);
      expect(row.balls * row.ballMm, row.designation).toBeLessThan(Math.PI * row.pitchMm);
    }
  });
});

describe("bearingFamilies(rows)", () => {
  const families = bearingFamilies(BEARINGS);

  test("holds one family for each ball count", () => {
    expect(families.map(({ balls }) => balls).sort((a, b) => a - b)).toEqual([7, 8, 9, 10, 11]);
  });

  test("covers each member's races with 2 % to spare for slip and other makes", () => {
    for (const row of BEARINGS) {
      const family = families.find(({ balls }) => balls === row.balls)!;
      const rates = bearingMultiples(geometryOf(row));
      for (const race of ["outer", "inner"] as const) {
        const { multiple, tolerance } = family[race];
        const off = Math.abs(rates[race] / multiple - 1);
        expect(off + 0.015, `${row.designation} ${race}`).toBeLessThanOrEqual(tolerance);
      }
    }
  });

  test("keeps outer races of neighbouring families apart", () => {
    const windows = families
      .map(({ outer }) => outer)
      .sort((a, b) => a.multiple - b.multiple)
      .map(({ multiple, tolerance }) => [multiple * (1 - tolerance), multiple * (1 + tolerance)]);
    for (let i = 1; i < windows.length; i++) {
      expect(windows[i]![0]).toBeGreaterThan(windows[i - 1]![1]!);
    }
  });
});

describe("bearingFromMultiples(printed)", () => {
  // Timken table A-9: cage, ball spin, outer, inner.
  test.each([
    ["9104", 0.398, 2.339, 3.578, 5.422, 9],
    ["9105", 0.397, 2.328, 3.574, 5.426, 9],
    ["9106", 0.417, 2.933, 4.588, 6.412, 11],
    ["202K", 0.391, 2.175, 3.125, 4.875, 8],
    ["209K", 0.402, 2.461, 3.621, 5.379, 9],
    ["210K", 0.409, 2.665, 4.093, 5.907, 10],
    ["211K", 0.408, 2.62, 4.078, 5.922, 10],
    ["212K", 0.407, 2.584, 4.066, 5.934, 10],
    ["303K", 0.364, 1.696, 2.545, 4.455, 7],
    ["304K", 0.368, 1.757, 2.574, 4.426, 7],
    ["306K", 0.368, 1.757, 2.574, 4.426, 7],
    ["307K", 0.376, 1.888, 3.006, 4.994, 8],
    ["308K", 0.378, 1.925, 3.023, 4.977, 8],
    ["309K", 0.38, 1.955, 3.037, 4.963, 8],
    ["310K", 0.381, 1.981, 3.047, 4.953, 8],
  ])("finds balls, cage and ball spin of row %s", (_row, cage, ballSpin, outer, inner, balls) => {
    const geometry = bearingFromMultiples({ outer, inner, cage })!;
    expect(geometry.balls).toBe(balls);
    const rates = bearingMultiples(geometry);
    expect(Math.abs(rates.cage / cage - 1)).toBeLessThan(0.01);
    expect(Math.abs(rates.ballSpin / ballSpin - 1)).toBeLessThan(0.01);
    expect(rates.outer).toBeCloseTo(outer, 3);
  });

  test("refuses row 305K, a print error: races of another row beside its own cage", () => {
    expect(bearingFromMultiples({ outer: 3.574, inner: 5.426, cage: 0.367 })).toBeNull();
  });

  test("refuses races that do not add up to a whole number of balls, or that are swapped", () => {
    expect(bearingFromMultiples({ outer: 3.57, inner: 5.2 })).toBeNull();
    expect(bearingFromMultiples({ outer: 5.43, inner: 3.57 })).toBeNull();
  });
});
