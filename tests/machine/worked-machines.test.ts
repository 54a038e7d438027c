import { describe, expect, test } from "vitest";
import { expectedLines } from "../../src/machine/expected-lines.js";
import { parseMachineFile } from "../../src/machine/machine-file.js";
import type { RunningState } from "../../src/machine/profile.js";
import { shaftSpeeds } from "../../src/machine/shaft-speeds.js";
import { washerById } from "../../src/machine/washers.js";

// Whole machines worked through by hand from n / 60, pi D f / L, the bearing and the gear formulas;
// bearing geometry as in the table (6206 46 x 9.525, 6204 33.5 x 7.938, 6202 25 x 5.953 mm).

const state = (given: Partial<RunningState>): RunningState => ({
  drumRpm: null,
  motorRpm: null,
  lineHz: null,
  phase: "spin",
  ...given,
});

describe("a belt-driven front loader: 270 / 22.5 mm, belt 1230 mm, 24 bars, 12 slots", () => {
  const washer = parseMachineFile(
    {
      like: "front-load-belt-universal",
      belt: { motorPulleyMm: 22.5, drumPulleyMm: 270, lengthMm: 1230 },
      drumBearings: ["6206", "6204"],
      motorBearings: ["6202"],
      motor: { slots: 12, bars: 24 },
    },
    "worked.json",
  );
  const hzAt = (drumRpm: number, phase: "spin" | "wash"): ((id: string) => number) => {
    const lines = expectedLines(washer, state({ drumRpm, motorRpm: 12 * drumRpm, phase }));
    return (id) => lines.find((line) => line.id === id)!.hz!;
  };

  test("makes the lines worked out for 1200 rpm", () => {
    const hz = hzAt(1200, "spin");
    expect(hz("drum/once-per-turn")).toBeCloseTo(20, 9);
    expect(hz("motor-pulley/once-per-turn")).toBeCloseTo(240, 9);
    expect(hz("drive-belt/pass/front")).toBeCloseTo(13.792, 3);
    expect(hz("drive-belt/double-pass/front")).toBeCloseTo(27.585, 2);
    expect(hz("drum-bearing/outer/9-ball")).toBeCloseTo(71.36, 2);
    expect(hz("drum-bearing/inner/9-ball")).toBeCloseTo(108.64, 2);
    expect(hz("drum-bearing/outer/8-ball")).toBeCloseTo(61.04, 2);
    expect(hz("drum-bearing/inner/8-ball")).toBeCloseTo(98.96, 2);
    expect(hz("motor-bearing/outer/8-ball")).toBeCloseTo(731.4, 1);
    expect(hz("motor-bearing/inner/8-ball")).toBeCloseTo(1188.6, 1);
    expect(hz("motor/armature-slots/12")).toBeCloseTo(2880, 6);
    expect(hz("motor-brushes/bars/24")).toBeCloseTo(5760, 6);
  });

  test("makes the lines worked out for tumbling at 50 rpm", () => {
    const hz = hzAt(50, "wash");
    expect(hz("drum/once-per-turn")).toBeCloseTo(0.8333, 4);
    expect(hz("motor-pulley/once-per-turn")).toBeCloseTo(10, 9);
    expect(hz("drive-belt/pass/front")).toBeCloseTo(0.5747, 4);
    expect(hz("motor-brushes/bars/24")).toBeCloseTo(240, 9);
    expect(hz("motor-bearing/outer/8-ball")).toBeCloseTo(30.48, 2);
    expect(hz("motor-bearing/inner/8-ball")).toBeCloseTo(49.52, 2);
  });

  test("carries the drum's speed to the motor by its pulleys, which are known within 2 %", () => {
    const lines = expectedLines(washer, state({ drumRpm: 1200 }));
    const motor = lines.find(({ id }) => id === "motor-pulley/once-per-turn")!;
    expect(Math.abs(motor.hz! / 240 - 1)).toBeLessThan(0.02);
    expect(motor.drumOrder).toBeCloseTo(12.12, 2);
  });
});

describe("a top loader with mode shifter: 16/24/64, 4 planets, pulleys 2.5:1, 1725 rpm at 60 Hz", () => {
  const washer = parseMachineFile(
    {
      like: "top-load-belt",
      motorToDrum: 2.5,
      belt: { drumPulleyMm: 150, lengthMm: 950 },
      gears: { sun: 16, planet: 24, ring: 64, planets: 4 },
    },
    "worked.json",
  );

  test("makes the lines worked out for agitation", () => {
    const told = state({ motorRpm: 1725, lineHz: 60, phase: "wash" });
    const lines = expectedLines(washer, told);
    const hz = (id: string): number => lines.find((line) => line.id === id)!.hz!;
    expect(shaftSpeeds(washer, told)).toEqual({
      drum: null,
      motor: 28.75,
      agitator: 2.3,
      standing: ["drum"],
    });
    expect(hz("gear-case/mesh")).toBeCloseTo(147.2, 6);
    expect(hz("gear-case/planet-pass")).toBeCloseTo(9.2, 6);
    expect(hz("gear-case/sun-tooth")).toBeCloseTo(36.8, 6);
    // A tooth of a planet is struck 12.27 times a second, 6.13 times on each flank.
    expect(2 * hz("gear-case/planet-tooth")).toBeCloseTo(12.27, 2);
    expect(hz("drive-belt/pass/top-wash")).toBeCloseTo(5.704, 3);
    expect(hz("motor/pole-pass")).toBeCloseTo(5, 9);
    expect(hz("mains/hum")).toBe(120);
  });

  test("turns the basket at 690 rpm in the spin, where no gear meshes", () => {
    const told = state({ motorRpm: 1725, lineHz: 60 });
    expect(shaftSpeeds(washer, told).drum! * 60).toBeCloseTo(690, 9);
    const parts = expectedLines(washer, told).map(({ part }) => part);
    expect(parts).not.toContain("gear-case");
  });
});

test("a direct drive of 36 slots and 42 poles sounds at 840, 2520 and 5040 Hz at 1200 rpm", () => {
  const washer = parseMachineFile(
    { like: "front-load-direct", motor: { slots: 36, poles: 42 } },
    "worked.json",
  );
  const tones = expectedLines(washer, state({ drumRpm: 1200 })).filter(
    ({ part }) => part === "rotor-stator",
  );
  expect(tones.map(({ hz }) => hz)).toEqual([840, 2520, 5040]);
  expect(tones.map(({ drumOrder }) => drumOrder)).toEqual([42, 126, 252]);
});

test.each([
  [50, 50, 100, 300],
  [60, 60, 120, 360],
] as const)(
  "a drain pump at %i Hz turns, hums and passes 6 vanes at %i, %i and %i Hz",
  (...row) => {
    const [lineHz, rotation, hum, vanes] = row;
    const lines = expectedLines(washerById("front-load-direct"), state({ lineHz, phase: "drain" }));
    const hz = (id: string): number => lines.find((line) => line.id === id)!.hz!;
    expect([hz("drain-pump/rotation"), hz("mains/hum"), hz("drain-pump/vanes/6")]).toEqual([
      rotation,
      hum,
      vanes,
    ]);
  },
);
