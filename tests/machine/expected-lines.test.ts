import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { expectedLines } from "../../src/machine/expected-lines.js";
import type { ExpectedLine } from "../../src/machine/expected-line.js";
import type { RunningState } from "../../src/machine/profile.js";
import { washerById } from "../../src/machine/washers.js";
import {
  MACHINE_FAMILIES,
  MACHINE_IDS,
  MACHINE_PROFILES,
  PHASES,
  type Phase,
} from "../../src/machine/words.js";

const linesOf = (id: string, given: Partial<RunningState>): ExpectedLine[] =>
  expectedLines(washerById(id), {
    drumRpm: null,
    motorRpm: null,
    lineHz: null,
    phase: "spin",
    ...given,
  });

const anyId = fc.constantFrom(...MACHINE_IDS);
const anyPhase = fc.constantFrom<Phase>(...PHASES);
const anyRpm = fc.option(fc.double({ min: 30, max: 1600, noNaN: true }));
const anyState = fc.record({
  drumRpm: anyRpm,
  motorRpm: fc.option(fc.double({ min: 30, max: 18_000, noNaN: true })),
  lineHz: fc.option(fc.constantFrom<50 | 60>(50, 60)),
  phase: anyPhase,
});

describe("expectedLines(washer, state)", () => {
  test("gives every line its own id, a known clock and a window that does not reach zero", () => {
    fc.assert(
      fc.property(anyId, anyState, (id, state) => {
        const lines = linesOf(id, state);
        expect(new Set(lines.map((line) => line.id)).size).toBe(lines.length);
        for (const line of lines) {
          expect(line.multiple, line.id).toBeGreaterThan(0);
          expect(line.tolerance, line.id).toBeGreaterThan(0);
          expect(line.tolerance, line.id).toBeLessThan(1);
          expect(line.label.length * line.meaning.length * line.source.length).toBeGreaterThan(0);
        }
      }),
    );
  });

  test("names only parts that the washer has", () => {
    fc.assert(
      fc.property(anyId, anyState, (id, state) => {
        const parts = new Set(washerById(id).profiles.flatMap(({ components }) => components));
        for (const line of linesOf(id, state)) expect(parts, line.id).toContain(line.part);
      }),
    );
  });

  test("doubles every line of a shaft, and no other, when all speeds double", () => {
    fc.assert(
      fc.property(anyId, fc.double({ min: 300, max: 800, noNaN: true }), (id, drumRpm) => {
        const slow = linesOf(id, { drumRpm, motorRpm: drumRpm * 2.5, lineHz: 50 });
        const fast = linesOf(id, { drumRpm: 2 * drumRpm, motorRpm: drumRpm * 5, lineHz: 50 });
        for (const line of slow) {
          const other = fast.find((candidate) => candidate.id === line.id)!;
          if (line.id === "motor/pole-pass" || line.hz === null) continue;
          const factor = line.clock === "mains" || line.clock === "fixed" ? 1 : 2;
          expect(other.hz! / line.hz, line.id).toBeCloseTo(factor, 9);
        }
      }),
    );
  });

  test("gives Hz, drum order and clock that agree with each other", () => {
    fc.assert(
      fc.property(anyId, anyState, (id, state) => {
        for (const line of linesOf(id, state)) {
          if (line.clock === "drum" && line.drumOrder !== null) {
            expect(line.drumOrder, line.id).toBeCloseTo(line.multiple, 9);
          }
          if (line.clock === "mains" || line.clock === "fixed") expect(line.drumOrder).toBeNull();
          if (state.drumRpm !== null && line.hz !== null && line.drumOrder !== null) {
            expect(line.hz, line.id).toBeCloseTo((line.drumOrder * state.drumRpm) / 60, 6);
          }
        }
      }),
    );
  });

  // Told speeds, so that no window is widened by a drive ratio.
  const TOLD = [
    { clock: "drum", speed: { drumRpm: 800 } },
    { clock: "motor", speed: { motorRpm: 1725 } },
    { clock: "mains", speed: {} },
    { clock: "fixed", speed: {} },
  ] as const;
  // Counts that differ between makes are cut to the commonest when kinds are pooled, and balls to races.
  const CUT = /^(gear-case|.*\/(ball|bars|magnet|vanes|armature-slots|hum)\/)/;

  const covers = (wide: ExpectedLine | undefined, line: ExpectedLine): boolean =>
    wide !== undefined &&
    wide.multiple * (1 - wide.tolerance) <= line.multiple * (1 - line.tolerance) + 1e-9 &&
    wide.multiple * (1 + wide.tolerance) >= line.multiple * (1 + line.tolerance) - 1e-9;

  test.each(MACHINE_FAMILIES)("gives %s the windows of all its members", (family) => {
    const states = PHASES.flatMap((phase) => TOLD.map((told) => ({ phase, ...told })));
    const lost = states.flatMap(({ phase, clock, speed }) => {
      const pooled = linesOf(family, { phase, ...speed });
      return washerById(family)
        .profiles.flatMap(({ id }) => linesOf(id, { phase, ...speed }))
        .filter((line) => line.clock === clock && !CUT.test(line.id))
        .filter(
          (line) =>
            !covers(
              pooled.find(({ id }) => id === line.id),
              line,
            ),
        )
        .map((line) => `${phase} ${line.id}`);
    });
    expect(lost).toEqual([]);
  });

  test.each(MACHINE_FAMILIES)("gives %s no line that none of its members has", (family) => {
    for (const phase of PHASES) {
      const own = new Set(
        washerById(family).profiles.flatMap(({ id }) => linesOf(id, { phase }).map((l) => l.id)),
      );
      const strays = linesOf(family, { phase }).filter(({ id }) => !own.has(id));
      expect(strays.map(({ id }) => id)).toEqual([]);
    }
  });

  test.each(MACHINE_PROFILES)("keeps the list of %s short enough to test every line", (id) => {
    for (const phase of PHASES.filter((label) => label !== "unknown")) {
      const lines = linesOf(id, { phase, drumRpm: 1000, lineHz: 50 });
      expect(lines.length).toBeLessThanOrEqual(40);
      expect(lines.filter(({ healthy }) => !healthy).length).toBeLessThanOrEqual(20);
    }
  });

  test("refuses speeds that no washer reaches", () => {
    const code = { code: "out-of-range" };
    expect(() => linesOf("unknown", { drumRpm: 5000 })).toThrow(expect.objectContaining(code));
    expect(() => linesOf("unknown", { motorRpm: -1 })).toThrow(expect.objectContaining(code));
    expect(() => linesOf("unknown", { drumRpm: Number.NaN })).toThrow(
      expect.objectContaining(code),
    );
  });
});

describe("what is known about a speed", () => {
  const motorLine = (lines: readonly ExpectedLine[]): ExpectedLine =>
    lines.find(({ id }) => id === "motor-bearing/outer/8-ball")!;

  test("is not carried over a drive ratio that differs too much between makes", () => {
    const line = motorLine(linesOf("front-load-belt-universal", { drumRpm: 1200 }));
    expect(line.hz).toBeNull();
    expect(line.drumOrder).toBeNull();
    expect(line.multiple).toBeGreaterThan(2.9);
  });

  test("is carried over a narrow one, with the spread added to the window", () => {
    const [told, derived] = [{ drumRpm: 700, motorRpm: 1750 }, { drumRpm: 700 }].map((given) =>
      motorLine(linesOf("top-load-belt", given)),
    );
    expect(derived!.hz).toBeCloseTo(told!.hz!, 6);
    expect(derived!.tolerance).toBeGreaterThan(told!.tolerance + 0.07);
  });

  test("is the drum's own on a direct drive", () => {
    const tone = linesOf("front-load-direct", { drumRpm: 600 }).find(
      ({ id }) => id === "rotor-stator/magnet/48",
    )!;
    expect(tone).toMatchObject({ clock: "drum", hz: 480, drumOrder: 48 });
  });

  test("of a speed of zero is none at all", () => {
    for (const line of linesOf("front-load-direct", { drumRpm: 0 })) {
      if (line.clock === "drum") expect(line.hz, line.id).toBeNull();
    }
  });

  test("of both speeds leaves out members of a family that cannot have their ratio", () => {
    const parts = (ratio: number): string[] =>
      linesOf("unknown", { drumRpm: 1000, motorRpm: ratio * 1000 }).map(({ part }) => part);
    expect(parts(11)).toContain("motor-brushes");
    expect(parts(11)).not.toContain("rotor-stator");
    expect(parts(11)).not.toContain("motor-coupling");
    expect(parts(1)).toContain("rotor-stator");
    expect(parts(1)).not.toContain("motor-brushes");
    expect(parts(2.7)).toContain("motor-coupling");
  });
});

describe("the phase", () => {
  test.each(["coast", "hand-spin"] as const)("%s has no line that needs current", (phase) => {
    for (const id of MACHINE_IDS) {
      const kinds = linesOf(id, { phase, lineHz: 50, drumRpm: 500 }).map(({ kind }) => kind);
      for (const kind of [
        "mains-hum",
        "pump-rotation",
        "pump-vane",
        "torque-ripple",
        "pwm-carrier",
      ]) {
        expect(kinds, `${id} ${kind}`).not.toContain(kind);
      }
    }
  });

  test("coast keeps cogging, belt, brushes and bearings, which need none", () => {
    const kinds = (id: string): string[] =>
      linesOf(id, { phase: "coast", drumRpm: 500 }).map(({ kind }) => kind);
    expect(kinds("front-load-direct")).toContain("cogging");
    expect(kinds("front-load-direct")).not.toContain("pole-pass");
    expect(kinds("front-load-belt-universal")).toEqual(
      expect.arrayContaining(["belt-pass", "commutator", "bearing-outer"]),
    );
  });

  test("drain has only pump and mains lines, unless the wash motor drives the pump", () => {
    for (const id of MACHINE_PROFILES) {
      const parts = new Set(linesOf(id, { phase: "drain", lineHz: 60 }).map(({ part }) => part));
      const old = id === "top-load-coupled" || id === "top-load-belt-reversing";
      expect(parts.has("motor-bearing"), id).toBe(old);
      expect(parts.has("drum-bearing"), id).toBe(false);
      expect(parts.has("drain-pump"), id).toBe(true);
    }
  });

  test("wash of a top loader has its gears and not its drum, of a front loader the reverse", () => {
    const top = linesOf("top-load-belt", { phase: "wash", motorRpm: 1725 });
    expect(top.map(({ kind }) => kind)).toContain("gear-mesh");
    expect(top.map(({ clock }) => clock)).not.toContain("drum");
    const front = linesOf("front-load-direct", { phase: "wash", drumRpm: 45 });
    expect(front.map(({ kind }) => kind)).toEqual(
      expect.arrayContaining(["bearing-outer", "lifter"]),
    );
    expect(front.map(({ kind }) => kind)).not.toContain("gear-mesh");
  });

  test("spin has no gear lines: the set is locked", () => {
    for (const id of MACHINE_IDS) {
      expect(linesOf(id, { phase: "spin" }).map(({ kind }) => kind)).not.toContain("gear-mesh");
    }
  });

  test("fill has the inlet valve's hum alone", () => {
    const lines = linesOf("front-load-direct", { phase: "fill", lineHz: 50 });
    expect(lines.map(({ part, hz }) => [part, hz])).toEqual([["inlet-valve", 100]]);
  });
});

describe("bearing lines", () => {
  const spin = linesOf("front-load-belt-universal", { drumRpm: 1200, motorRpm: 13_200 });

  test("name families, never part numbers", () => {
    for (const line of spin.filter(({ kind }) => kind.startsWith("bearing-"))) {
      expect(line.label).not.toMatch(/6\d\d\d/);
      expect(line.id).not.toMatch(/6\d\d\d/);
    }
  });

  test("put the ball's line at twice its spin rate, with the cage to each side", () => {
    const ball = spin.find(({ id }) => id === "drum-bearing/ball/9-ball")!;
    // 6206: 2 x 2.311 strikes (Timken table A-9), 6205: 4.7135 printed as such.
    expect(ball.multiple).toBeGreaterThan(4.55);
    expect(ball.multiple).toBeLessThan(4.85);
    expect(ball.sidebandMultiple).toBeCloseTo(0.398, 2);
  });

  test("are looked for as modulation on the drum and as tones on a fast motor", () => {
    const seenIn = (id: string): string => spin.find((line) => line.id === id)!.seenIn;
    expect(seenIn("drum-bearing/outer/8-ball")).toBe("envelope");
    expect(seenIn("motor-bearing/outer/8-ball")).toBe("spectrum");
  });

  test("swell once per turn: inner races always, outer ones under a load that rotates", () => {
    const side = (phase: Phase, race: string): number | null =>
      linesOf("front-load-direct", { phase, drumRpm: 60 }).find(
        ({ id }) => id === `drum-bearing/${race}/9-ball`,
      )!.sidebandMultiple;
    expect(side("spin", "outer")).toBe(1);
    expect(side("hand-spin", "outer")).toBeNull();
    expect(side("hand-spin", "inner")).toBe(1);
  });
});

describe("belt lines", () => {
  test("keep front and top loaders' belts apart, each at its range of drum turns", () => {
    const windows = linesOf("unknown", { drumRpm: 800 })
      .filter(({ id }) => id.startsWith("drive-belt/pass"))
      .map(({ multiple, tolerance }) => [multiple * (1 - tolerance), multiple * (1 + tolerance)]);
    expect(windows).toHaveLength(2);
    const [top, front] = windows.sort((a, b) => a[0]! - b[0]!) as [number[], number[]];
    expect(top[0]).toBeCloseTo(0.48, 6);
    expect(top[1]).toBeCloseTo(0.53, 6);
    expect(front[0]).toBeCloseTo(0.67, 6);
    expect(front[1]).toBeCloseTo(0.74, 6);
  });
});
