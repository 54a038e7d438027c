import { describe, expect, test } from "vitest";
import { BEARINGS } from "../../src/machine/bearings.data.js";
import { BELT_SECTIONS } from "../../src/machine/belt-sections.data.js";
import { findBearing } from "../../src/machine/bearing-families.js";
import { FAMILIES } from "../../src/machine/families.data.js";
import { canBeAssembled, ringHeldReduction } from "../../src/machine/planetary.js";
import { componentsOf, PROFILES, washerById } from "../../src/machine/washers.js";
import {
  COMPONENTS,
  MACHINE_FAMILIES,
  MACHINE_IDS,
  MACHINE_PROFILES,
} from "../../src/machine/words.js";

const PROVENANCES = ["published", "common practice", "from memory", "computed"];

/** Every object inside `value` that carries a source or looks like a span or a choice. */
function rowsIn(value: unknown, path = ""): [path: string, row: Record<string, unknown>][] {
  if (typeof value !== "object" || value === null) return [];
  const row = value as Record<string, unknown>;
  const isRow = ["low", "values", "source"].some((key) => Object.hasOwn(row, key));
  const inner = Object.entries(row).flatMap(([key, item]) => rowsIn(item, `${path}.${key}`));
  return isRow ? [[path, row], ...inner] : inner;
}

const ROWS = [...PROFILES, ...BEARINGS, ...BELT_SECTIONS, ...FAMILIES].flatMap((row, i) =>
  rowsIn(row, `${"id" in row ? row.id : i}`),
);

const faulty = (isFaulty: (row: Record<string, unknown>) => boolean): string[] =>
  ROWS.filter(([, row]) => isFaulty(row)).map(([path]) => path);

describe("every row of the washers' data", () => {
  test("is found", () => {
    expect(ROWS.length).toBeGreaterThan(100);
  });

  test("says its source and how well it is known", () => {
    const unsourced = faulty(
      ({ source, provenance }) =>
        String(source ?? "").length < 5 || !PROVENANCES.includes(String(provenance)),
    );
    expect(unsourced).toEqual([]);
  });

  test("rises from low over typical to high", () => {
    const unordered = faulty((row) => {
      if (!Object.hasOwn(row, "low")) return false;
      const { low, typical, high } = row as { low: number; typical: number; high: number };
      return !(low >= 0 && low <= typical && typical <= high);
    });
    expect(unordered).toEqual([]);
  });

  test("lists distinct whole numbers where there is a choice of counts", () => {
    const odd = faulty((row) => {
      if (!Object.hasOwn(row, "values")) return false;
      const values = row["values"] as number[];
      const whole = values.every((value) => Number.isInteger(value) && value > 0);
      return values.length === 0 || new Set(values).size !== values.length || !whole;
    });
    expect(odd).toEqual([]);
  });
});

describe("the built-in profiles", () => {
  test("are exactly those that the words name, each once", () => {
    expect(PROFILES.map(({ id }) => id).sort()).toEqual([...MACHINE_PROFILES].sort());
    expect(FAMILIES.map(({ id }) => id).sort()).toEqual([...MACHINE_FAMILIES].sort());
  });

  test.each(PROFILES)(
    "$id names known parts, each once, with normal and other",
    ({ components }) => {
      expect(new Set(components).size).toBe(components.length);
      expect(components.every((component) => COMPONENTS.includes(component))).toBe(true);
      expect(components).toEqual(expect.arrayContaining(["normal", "other"]));
    },
  );

  test.each(PROFILES)("$id has the parts its drive needs and none that it lacks", (profile) => {
    const { components, drive, axis, motor } = profile;
    const has = (part: (typeof components)[number]): boolean => components.includes(part);
    expect(has("drive-belt")).toBe(drive === "belt");
    expect(has("drum-pulley")).toBe(drive === "belt");
    expect(profile.belt !== null).toBe(drive === "belt");
    expect(has("rotor-stator")).toBe(drive === "direct");
    expect(has("motor-bearing")).toBe(drive !== "direct");
    expect(motor.bearings === null).toBe(drive === "direct");
    expect(has("motor-coupling")).toBe(drive === "coupling");
    expect(has("motor-brushes")).toBe(motor.kind === "universal");
    for (const part of ["drum-spider", "counterweight", "door-boot", "drum-lifter"] as const) {
      expect(has(part), part).toBe(axis === "horizontal");
    }
    expect(has("agitator-dogs")).toBe(axis === "vertical");
    expect(profile.tumbleRpm !== null).toBe(axis === "horizontal");
    expect(profile.strokesPerMinute !== null).toBe(axis === "vertical");
    if (profile.planetary !== null) expect(has("gear-case")).toBe(true);
  });

  test.each(PROFILES)("$id names only bearings whose geometry is known", (profile) => {
    for (const name of [...profile.drumBearings, ...(profile.motor.bearings ?? [])]) {
      expect(findBearing(name), name).toBeDefined();
    }
  });

  test("together have every part that can be named", () => {
    expect(componentsOf(washerById("unknown")).sort()).toEqual([...COMPONENTS].sort());
  });

  test.each(PROFILES.filter(({ planetary }) => planetary !== null))(
    "$id only lists planetary sets that can be put together and reduce as it says",
    ({ planetary }) => {
      const { low, high } = planetary!.reduction;
      for (const set of planetary!.sets) {
        expect(canBeAssembled(set), JSON.stringify(set)).toBe(true);
        expect(Math.abs(set.ring - set.sun - 2 * set.planet)).toBeLessThanOrEqual(1);
        expect(ringHeldReduction(set)).toBeGreaterThanOrEqual(low);
        expect(ringHeldReduction(set)).toBeLessThanOrEqual(high);
      }
    },
  );
});

describe("washerById(id)", () => {
  test.each(MACHINE_IDS)("knows %s", (id) => {
    const washer = washerById(id);
    expect(washer.id).toBe(id);
    expect(washer.label.length).toBeGreaterThan(5);
    expect(washer.profiles.length).toBeGreaterThan(0);
  });

  test("pools a family's members and nothing else", () => {
    const axes = (id: string): Set<string> =>
      new Set(washerById(id).profiles.map(({ axis }) => axis));
    expect(axes("top-load")).toEqual(new Set(["vertical"]));
    expect(axes("front-load")).toEqual(new Set(["horizontal"]));
    expect(washerById("unknown").profiles).toHaveLength(MACHINE_PROFILES.length);
  });

  test("refuses an unknown name, says it, and lists the names there are", () => {
    expect(() => washerById("twin-tub")).toThrow(
      expect.objectContaining({
        code: "machine-unknown",
        message: expect.stringMatching(/front-load-direct.*received "twin-tub"/),
      }),
    );
  });
});
