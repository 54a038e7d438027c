import { describe, expect, test } from "vitest";
import { expectedLines } from "../../src/machine/expected-lines.js";
import { parseMachineFile } from "../../src/machine/machine-file.js";
import type { MachineProfile } from "../../src/machine/profile.js";
import { washerById } from "../../src/machine/washers.js";

const profileOf = (json: unknown): MachineProfile =>
  parseMachineFile(json, "mine.json").profiles[0]!;

describe("parseMachineFile(json, name)", () => {
  test("leaves a built-in profile as it is when nothing else is told", () => {
    const plain = washerById("front-load-belt-bldc").profiles[0]!;
    const told = profileOf({ like: "front-load-belt-bldc" });
    expect(told).toMatchObject({
      motorToDrum: plain.motorToDrum,
      belt: plain.belt,
      drumBearings: plain.drumBearings,
      components: plain.components,
    });
    expect(told.id).toBe("mine.json");
  });

  test("takes the drive ratio from both pulleys, with up to 2 % of creep", () => {
    const { motorToDrum } = profileOf({
      like: "front-load-belt-universal",
      belt: { motorPulleyMm: 20, drumPulleyMm: 260 },
    });
    expect(motorToDrum.low).toBeCloseTo(13, 9);
    expect(motorToDrum.high).toBeCloseTo(13.265, 3);
    expect(motorToDrum).toMatchObject({ provenance: "told", source: "machine file mine.json" });
  });

  test("works out belt rate and free span from pulleys and belt length", () => {
    const { belt } = profileOf({
      like: "front-load-belt-universal",
      belt: { motorPulleyMm: 20, drumPulleyMm: 270, lengthMm: 1219, section: "J", ribs: 5 },
    });
    // pi x 270 / 1219; 360 mm centres give a span of 337.6 mm.
    expect(belt!.beltToDrum.typical).toBeCloseTo(0.6958, 4);
    expect(belt!.beltToDrum.high / belt!.beltToDrum.typical).toBeCloseTo(1.01, 6);
    expect(belt!.drumPulleyMm.low).toBeCloseTo(267.3, 6);
    expect(belt!.spanMm.typical).toBeCloseTo(337.6, 0);
    expect(belt!.massKgPerM.typical).toBeCloseTo(0.045, 9);
  });

  test("narrows the bearings to those told, by designation, geometry or maker's multiples", () => {
    const washer = parseMachineFile(
      {
        like: "front-load-direct",
        drumBearings: [
          "6206",
          { balls: 8, ballMm: 12, pitchMm: 51 },
          { outer: 4.588, inner: 6.412, cage: 0.417 },
        ],
      },
      "mine.json",
    );
    const lines = expectedLines(washer, {
      drumRpm: 600,
      motorRpm: null,
      lineHz: null,
      phase: "spin",
    });
    const outer = lines.filter(({ kind }) => kind === "bearing-outer");
    expect(outer.map(({ id }) => id)).toEqual([
      "drum-bearing/outer/9-ball",
      "drum-bearing/outer/8-ball",
      "drum-bearing/outer/11-ball",
    ]);
    expect(outer.map(({ hz }) => hz)).toEqual([
      expect.closeTo(35.68, 1),
      expect.closeTo(30.59, 1),
      expect.closeTo(45.88, 1),
    ]);
    for (const line of outer) expect(line.tolerance).toBeCloseTo(0.02, 9);
  });

  test("gives a motor the one slot and pole count that is told", () => {
    const { motor } = profileOf({ like: "front-load-direct", motor: { poles: 42 } });
    expect(motor.slotPolePairs).toEqual([[36, 42]]);
  });

  test("places rotor bars once their number is told", () => {
    const washer = parseMachineFile({ like: "top-load-belt", motor: { bars: 34 } }, "mine.json");
    const [line] = expectedLines(washer, {
      drumRpm: null,
      motorRpm: 1725,
      lineHz: 60,
      phase: "spin",
    }).filter(({ kind }) => kind === "rotor-slot");
    // 34 x 28.75 Hz, companions 2 x 60 Hz to each side.
    expect(line!.hz).toBe(977.5);
    expect(line!.sidebandMultiple! * 28.75).toBeCloseTo(120, 0);
  });
});

describe("a machine file that is wrong", () => {
  const messageOf = (json: unknown): string => {
    try {
      parseMachineFile(json, "mine.json");
    } catch (error) {
      expect(error).toMatchObject({ name: "WasherNoiseError", code: "machine-file-invalid" });
      return (error as Error).message;
    }
    return "accepted";
  };
  const like = "front-load-belt-universal";

  test.each<[string, unknown, RegExp]>([
    ["is no object", [1], /^Machine file mine\.json: it must be an object .*received \[1\]/],
    ["has no like", {}, /like must be one of top-load-belt, .*received nothing/],
    ["is like nothing known", { like: "twin-tub" }, /like must be one of .*received "twin-tub"/],
    [
      "has a text for a length",
      { like, belt: { motorPulleyMm: "20" } },
      /belt\.motorPulleyMm must be a number from 5 to 400 mm, received "20"/,
    ],
    [
      "has a length out of range",
      { like, belt: { lengthMm: 12 } },
      /belt\.lengthMm must be a number from 300 to 3000 mm, received 12\./,
    ],
    [
      "misspells a field",
      { like, pulley: 3 },
      /it has no field "pulley"; the fields are schema, name/,
    ],
    [
      "misspells an inner field",
      { like, belt: { motorPulley: 3 } },
      /belt has no field "motorPulley"; the fields are motorPulleyMm, drumPulleyMm/,
    ],
    [
      "has a range that falls",
      { like, spinRpm: { low: 900, typical: 800, high: 1000 } },
      /spinRpm must be a number from 100 to 2500 rpm, or \{ "low", "typical", "high" \} in rising order/,
    ],
    [
      "names a bearing that is not in the table",
      { like, drumBearings: ["6206", "9999"] },
      /drumBearings\[1\] must be one of 608, .*received "9999"/,
    ],
    [
      "has balls too large for their circle",
      { like, drumBearings: [{ balls: 9, ballMm: 30, pitchMm: 46 }] },
      /drumBearings\[0\]\.ballMm must be less than half of pitchMm 46, received 30/,
    ],
    [
      "copies a misprinted row of a maker's table",
      { like, drumBearings: [{ outer: 3.574, inner: 5.426, cage: 0.367 }] },
      /drumBearings\[0\] contradicts itself/,
    ],
    [
      "has a belt that does not go round its pulleys",
      { like, belt: { motorPulleyMm: 20, drumPulleyMm: 300, lengthMm: 600 } },
      /belt\.lengthMm must be at least \d+ mm to go round pulleys of 20 and 300 mm, received 600/,
    ],
    [
      "has a ratio that its pulleys do not give",
      { like, motorToDrum: 9, belt: { motorPulleyMm: 20, drumPulleyMm: 270 } },
      /motorToDrum must agree with the pulleys, which give 13\.64, received 9/,
    ],
    [
      "gives a direct drive a belt",
      { like: "front-load-direct", belt: {} },
      /belt needs a machine with a belt/,
    ],
    [
      "gives gears to a front loader",
      { like, gears: { sun: 16, planet: 24, ring: 64, planets: 4 } },
      /gears needs a machine with a planetary reducer, but it is like front-load-belt-universal/,
    ],
    [
      "has gears that do not mesh",
      { like: "top-load-belt", gears: { sun: 16, planet: 24, ring: 80, planets: 4 } },
      /gears\.ring must be sun \+ 2 planet = 64, give or take 3 for shifted teeth, received 80/,
    ],
    [
      "has gears that cannot be put together",
      { like: "top-load-belt", gears: { sun: 16, planet: 24, ring: 64, planets: 3 } },
      /gears\.planets must divide sun \+ ring = 80, received 3/,
    ],
    [
      "has an odd number of poles",
      { like, motor: { poles: 3 } },
      /motor\.poles must be even, received 3/,
    ],
    [
      "has half a gear tooth",
      { like: "top-load-belt", gears: { sun: 16.5, planet: 24, ring: 64, planets: 4 } },
      /gears\.sun must be a whole number of teeth from 6 to 200, received 16\.5/,
    ],
    [
      "has a mains frequency of its own",
      { like, lineHz: 55 },
      /lineHz must be 50 or 60, received 55/,
    ],
  ])("and %s is told so in one line", (_what, json, expected) => {
    const message = messageOf(json);
    expect(message).toMatch(expected);
    expect(message).not.toContain("\n");
  });

  test("and has several faults says the first and counts the rest", () => {
    expect(messageOf({ like, lineHz: 55, lifters: -1, pumpVanes: 0.5 })).toMatch(
      /^Machine file mine\.json: lineHz must .*\(2 more fields are wrong\)$/,
    );
  });
});
