import { describe, expect, it } from "vitest";
import { accessOf, axisOf } from "../../src/inspection/checks/machine-access.js";
import { mayDo, testsForWasher } from "../../src/inspection/checks/machine-fit.js";
import {
  HAND_TESTS,
  handTestNamed,
  outcomeChance,
  outcomeNamed,
  pointsOf,
} from "../../src/inspection/checks/hand-tests.js";
import { nextChecksFor } from "../../src/inspection/next-checks.js";
import { ACCESS, TEST_CAUTIONS } from "../../src/inspection/data/access.data.js";
import { componentsOf, washerById } from "../../src/machine/washers.js";
import { COMPONENTS, MACHINE_IDS, MACHINE_PROFILES } from "../../src/machine/words.js";

const checks = (machine: string, audience: "customer" | "technician" | "licensed") =>
  testsForWasher(washerById(machine))
    .filter((test) => mayDo(test, audience))
    .map((test) => test.check);

describe("the table of hand tests", () => {
  it("has chances that are chances: for every part the outcomes sum to 1, none is certain", () => {
    for (const test of HAND_TESTS) {
      for (const component of COMPONENTS) {
        const chances = test.outcomes.map((outcome) => outcomeChance(test, outcome, component));
        const where = `${test.check}, ${component}`;
        expect(
          chances.reduce((a, b) => a + b, 0),
          where,
        ).toBeCloseTo(1, 12);
        expect(Math.min(...chances), where).toBeGreaterThan(0);
        expect(Math.max(...chances), where).toBeLessThan(1);
      }
    }
  });

  it("points only at parts that make the outcome likelier than it is otherwise", () => {
    for (const test of HAND_TESTS) {
      for (const outcome of test.outcomes) {
        const average =
          COMPONENTS.reduce((sum, part) => sum + outcomeChance(test, outcome, part), 0) /
          COMPONENTS.length;
        for (const part of outcome.points) {
          expect(
            outcomeChance(test, outcome, part),
            `${test.check}=${outcome.outcome}, ${part}`,
          ).toBeGreaterThan(average);
        }
      }
    }
  });

  it("names every test, outcome and by-name once, in words that a shell takes as they are", () => {
    const words = HAND_TESTS.map((test) => test.check);
    expect(new Set(words).size).toBe(words.length);
    for (const test of HAND_TESTS) {
      const outcomes = test.outcomes.flatMap((outcome) => [
        outcome.outcome,
        ...(outcome.also ?? []),
      ]);
      expect(new Set(outcomes).size, test.check).toBe(outcomes.length);
      for (const word of [test.check, ...(test.also ?? []), ...outcomes]) {
        expect(word).toMatch(/^[a-z]+(-[a-z]+)*$/);
        expect(word).not.toBe("not-done");
      }
      for (const word of test.also ?? []) expect(handTestNamed(word)).toBe(handTestNamed(word));
    }
  });

  it("says the source of every row, and how well it is known", () => {
    const rows = [...HAND_TESTS, ...HAND_TESTS.flatMap((test) => test.outcomes), ...ACCESS];
    for (const row of rows) {
      expect(row.source.length).toBeGreaterThan(5);
      expect(["published", "common practice", "from memory"]).toContain(row.provenance);
    }
  });

  it("takes the words of the trade's examples: drum-rock=fail, belt-off-spin=quiet", () => {
    const rock = handTestNamed("drum-rock");
    expect(outcomeNamed(rock, "fail")!.points).toContain("drum-bearing");
    const quiet = outcomeNamed(handTestNamed("belt-off-spin"), "quiet")!;
    expect(quiet.points).toContain("drive-belt");
    expect(quiet.points).not.toContain("drum-bearing");
    expect(handTestNamed("belt-off-hand-spin")).toBe(handTestNamed("belt-off-spin"));
  });

  it("can find every part of every washer by some test that a technician may do", () => {
    for (const machine of MACHINE_PROFILES) {
      const washer = washerById(machine);
      const tests = testsForWasher(washer).filter((test) => mayDo(test, "technician"));
      const found = new Set([...tests.flatMap(pointsOf), "normal", "other"]);
      expect(
        componentsOf(washer).filter((part) => !found.has(part)),
        machine,
      ).toEqual([]);
    }
  });

  it("asks for no belt where there is none, and for no rotor where there is a belt", () => {
    expect(checks("front-load-direct", "technician")).not.toContain("belt-off-spin");
    expect(checks("front-load-direct", "technician")).toContain("rotor-off-spin");
    expect(checks("front-load-belt-universal", "technician")).not.toContain("rotor-off");
    expect(checks("front-load-belt-induction", "technician")).not.toContain("brush-length");
    expect(checks("top-load-belt", "technician")).toContain("clutch-slider");
  });
});

describe("the check after a diagnosis", () => {
  it("tells any two faults of a washer apart, by a test that such a washer allows", () => {
    const helpless: string[] = [];
    for (const machine of MACHINE_PROFILES) {
      const parts = componentsOf(washerById(machine));
      const allowed = checks(machine, "technician");
      const faults = parts.filter((part) => part !== "normal" && part !== "other");
      for (const first of faults) {
        for (const second of faults) {
          if (first === second) continue;
          const rest = parts.filter((part) => part !== first && part !== second);
          const ranking = [first, second, ...rest].map((component) => ({
            component,
            probability: 0,
          }));
          const [next] = nextChecksFor(ranking, "shortlist");
          if (!next || !allowed.includes(next.check))
            helpless.push(`${machine} ${first} ${second}`);
        }
      }
    }
    expect(helpless).toEqual([]);
  });

  it("does not ask to spin a machine that may stand on its transport bolts", () => {
    const ranking = (bolts: number) => [
      { component: "unbalanced-load" as const, probability: 0.6 - bolts / 2 },
      { component: "shipping-bolts" as const, probability: bolts },
    ];
    const asked = (bolts: number) =>
      nextChecksFor(ranking(bolts), "shortlist").map((one) => one.check);
    expect(asked(0.1)).toContain("empty-spin");
    expect(asked(0.35)).not.toContain("empty-spin");
  });

  it("counts the opening: the belt is off in about 12 minutes on a front loader", () => {
    const parts = componentsOf(washerById("front-load-belt-bldc"));
    const ranking = ["drum-bearing" as const, "drive-belt" as const, ...parts].map((component) => ({
      component,
      probability: 0,
    }));
    const [next] = nextChecksFor(ranking, "shortlist");
    expect(next).toMatchObject({ check: "belt-off-spin", audience: "technician" });
    expect(next!.minutes).toBeGreaterThanOrEqual(8);
    expect(next!.minutes).toBeLessThanOrEqual(20);
    expect(next!.text).toMatch(/^Unplugged/);
  });
});

describe("the words of a diagnosis's checks", () => {
  const even = (machine: string) =>
    componentsOf(washerById(machine)).map((component) => ({ component, probability: 0.05 }));
  const led = (machine: string) =>
    [
      { component: "drum-bearing" as const, probability: 0.5 },
      { component: "drive-belt" as const, probability: 0.3 },
      ...even(machine).filter(
        ({ component }) => !["drum-bearing", "drive-belt"].includes(component),
      ),
    ] as const;

  it("give the play of a drum that lies as this machine's does, and of both where the kind is not told", () => {
    const rock = (machine: string) =>
      nextChecksFor(led(machine), "likely").find(({ check }) => check === "drum-rock")!.text;
    expect(rock("front-load-belt-universal")).toMatch(
      /over 2 mm or a click; over 6 mm: stop using/,
    );
    expect(rock("front-load-belt-universal")).not.toMatch(/loader|10 mm/);
    expect(rock("top-load-belt")).toMatch(/over 10 mm or a click/);
    expect(rock("top-load-belt")).not.toMatch(/loader|2 mm/);
    expect(rock("unknown")).toMatch(/2 mm \(front loader.*10 mm \(top loader\)/);
  });

  it("say what each is for: one tells the two likeliest apart, a quicker one bears out the first", () => {
    const [apart, alone] = nextChecksFor(led("front-load-belt-universal"), "likely");
    expect(apart!.check).toBe("belt-off-spin");
    expect(apart!.why).toMatch(/^tells the drum bearing from the drive belt/);
    expect(alone!.check).toBe("drum-rock");
    expect(alone!.why).toMatch(
      /^bears out the drum bearing; quicker, so a visit may start with it$/,
    );
  });
});

describe("the check where perhaps nothing is wrong", () => {
  const ranking = (fault: "motor-coupling" | "drain-pump", normal: number, chance: number) =>
    [
      { component: "normal" as const, probability: normal },
      { component: fault, probability: chance },
      { component: "drum-bearing" as const, probability: 0.05 },
    ].sort((a, b) => b.probability - a.probability);

  it("sends nobody inside a machine that sounds in order", () => {
    expect(nextChecksFor(ranking("motor-coupling", 0.6, 0.07), "normal-sound")).toEqual([]);
    expect(nextChecksFor(ranking("drain-pump", 0.6, 0.05), "normal-sound")).toEqual([]);
  });

  it("asks the owner alone, and only for a part that is worth the minutes", () => {
    const asked = nextChecksFor(ranking("drain-pump", 0.62, 0.15), "normal-sound");
    expect(asked).toMatchObject([
      { check: "drain-only", audience: "customer", separates: ["drain-pump", "normal"] },
    ]);
  });

  it("asks first whether the leading part is at fault, not which of two parts", () => {
    const [first] = nextChecksFor(ranking("drain-pump", 0.46, 0.23), "shortlist");
    expect(first).toMatchObject({ check: "drain-only", separates: ["drain-pump", "normal"] });
    const [other] = nextChecksFor(ranking("drain-pump", 0.2, 0.4), "shortlist");
    expect(other).toMatchObject({ check: "drain-only", separates: ["drain-pump", "normal"] });
  });

  it("tells an owner to pull the plug, and a fault from a failed test", () => {
    const squeak = [
      { component: "door-boot" as const, probability: 0.4 },
      { component: "normal" as const, probability: 0.3 },
    ];
    const [asked] = nextChecksFor(squeak, "shortlist");
    expect(asked!.text).toMatch(/^Pull the plug\. .* A fault: the squeak is gone/);
  });
});

describe("what a customer may be asked", () => {
  // Common practice, no source: level, transport bolts, hands flat on closed panels, drum by hand with
  // the plug pulled, wet boot, empty spin, stop and drain by programme, the filter that the manual shows.
  const ALLOWED = [
    "rock-the-corners",
    "look-for-shipping-bolts",
    "press-the-panels",
    "turn-drum-with-torch",
    "wet-the-boot",
    "empty-spin",
    "stop-and-listen",
    "drain-only",
    "pump-filter",
  ];

  it("is what the trade allows and nothing else, on every machine", () => {
    for (const machine of MACHINE_IDS) {
      const asked = checks(machine, "customer");
      expect(asked.length).toBeGreaterThan(3);
      expect(
        asked.filter((check) => !ALLOWED.includes(check)),
        machine,
      ).toEqual([]);
    }
  });

  it("never opens a cover: at most the pump filter's flap of a front loader", () => {
    for (const machine of MACHINE_IDS) {
      const washer = washerById(machine);
      const axis = axisOf(washer);
      for (const test of testsForWasher(washer).filter((one) => mayDo(one, "customer"))) {
        expect(test.power).not.toBe("live");
        if (test.access.length === 0) continue;
        expect([machine, axis, test.check]).toEqual([machine, "horizontal", "pump-filter"]);
        expect(
          accessOf("horizontal").rowsOf(accessOf("horizontal").bitsOf(test.access)),
        ).toHaveLength(1);
        expect(test.customerHow).toMatch(/owner's manual/);
      }
    }
  });
});

describe("safety of the tests", () => {
  it("nothing runs with covers off but what is kept for licensed people", () => {
    for (const test of HAND_TESTS) {
      if (test.power === "covers-on") expect(test.access, test.check).toEqual([]);
      if (test.power === "live") expect(test.who, test.check).toBe("licensed");
    }
  });

  it("every test by hand pulls the plug first, every opening too", () => {
    for (const row of [...HAND_TESTS.filter((test) => test.power === "unplugged"), ...ACCESS]) {
      expect(row.cautions).toContain("unplug");
    }
    expect(TEST_CAUTIONS.unplug).toMatch(/plug.*5 minutes/);
  });

  it("tipping warns of water, weight and a falling machine", () => {
    const tipped = ACCESS.find((row) => row.access === "tipped")!;
    expect(tipped.cautions).toEqual(expect.arrayContaining(["tipping", "heavy", "water"]));
  });
});
