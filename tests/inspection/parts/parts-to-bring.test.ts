import { describe, expect, it } from "vitest";
import type { Prices } from "../../../src/inspection/economics/prices.js";
import { KITS } from "../../../src/inspection/parts/kits.data.js";
import { partsToBring } from "../../../src/inspection/parts/parts-to-bring.js";
import { COMPONENTS, type Component } from "../../../src/machine/words.js";
import { washerById } from "../../../src/machine/washers.js";

const front = washerById("front-load-belt-universal");
const top = washerById("top-load-belt");

const brought = (
  chances: Partial<Record<Component, number>>,
  prices: Prices = {},
  confirmed: Component[] = [],
  machine = front,
): Component[] => {
  const ranking = Object.entries(chances).map(([component, probability]) => ({
    component: component as Component,
    probability,
  }));
  return partsToBring(ranking, machine, prices, { confirmed }).bring.map((row) => row.component);
};

describe("partsToBring without prices (common practice, no source)", () => {
  it("carries a cheap part from a chance of 0.15 on", () => {
    expect(brought({ "drive-belt": 0.15, "drain-pump": 0.14 })).toEqual(["drive-belt"]);
  });

  it("orders a dear part only from 0.6 on and once a hand test confirms it", () => {
    expect(brought({ "gear-case": 0.9 }, {}, [], top)).toEqual([]);
    expect(brought({ "gear-case": 0.59 }, {}, ["gear-case"], top)).toEqual([]);
    expect(brought({ "gear-case": 0.6 }, {}, ["gear-case"], top)).toEqual(["gear-case"]);
  });

  it("counts a part as dear by its own price, where one is told", () => {
    // 90 of 600 is 15 %: band M.
    const prices = { newMachine: 600, parts: { "drain-pump": 90 } };
    expect(brought({ "drain-pump": 0.5 }, prices)).toEqual([]);
  });
});

describe("partsToBring with prices", () => {
  // By hand: chance · second trip against 15 % of the price.
  it("carries a part when the trip it may save outweighs sending it back", () => {
    const prices = { secondTrip: 90, parts: { "drive-belt": 40, controls: 240 } };
    // 0.1 · 90 = 9 > 6; 0.3 · 90 = 27 < 36.
    expect(brought({ "drive-belt": 0.1, controls: 0.3 }, prices)).toEqual(["drive-belt"]);
    expect(brought({ controls: 0.3 }, { ...prices, returnPercent: 10 })).toEqual(["controls"]);
  });

  it("uses the bands for a part without a price", () => {
    expect(brought({ "drive-belt": 0.1 }, { secondTrip: 1000 })).toEqual([]);
  });
});

describe("partsToBring, kits and notes", () => {
  it("has a kit for every part that can be mended", () => {
    const named = new Set(KITS.map(({ component }) => component));
    expect(COMPONENTS.filter((one) => !named.has(one))).toEqual(["normal", "other"]);
  });

  const one = (component: Component, machine = top) =>
    partsToBring([{ component, probability: 0.8 }], machine, {}, { confirmed: [] });

  it("brings rods as a set to a top loader and dampers to a front loader", () => {
    expect(one("suspension").bring[0]!.items.join()).toMatch(/rods.*whole set/);
    expect(one("suspension", front).bring[0]!.items.join()).toMatch(/dampers as a pair/);
  });

  // Common practice, no source.
  it("tells the clutch's steps: spring first, silicone grease, hose high, ground strap", () => {
    const { bring, refitting } = one("clutch-splines");
    const notes = refitting.map(({ text }) => text).join(" ");
    expect(bring[0]!.items.join()).toMatch(/slider.*spring.*silicone grease/);
    expect(notes).toMatch(/spring in first/);
    expect(notes).toMatch(/silicone grease/);
    expect(notes).toMatch(/drain hose above the water line/);
    expect(notes).toMatch(/ground strap/);
  });

  it("warns of the hub nut that tightens counter-clockwise, on top loaders only", () => {
    const traps = (machine: typeof top): string =>
      one("drum-bearing", machine)
        .traps.map(({ text }) => text)
        .join();
    expect(traps(top)).toMatch(/tightens counter-clockwise/);
    expect(traps(front)).not.toMatch(/counter-clockwise/);
  });
});
