import { describe, expect, it } from "vitest";
import { mergePrices } from "../../../src/inspection/economics/merge-prices.js";
import type { KnownFact, Prices } from "../../../src/inspection/economics/prices.js";
import {
  fiftyPercentSaysReplace,
  slidingLimit,
} from "../../../src/inspection/economics/repair-rules.js";
import { planVisit } from "../../../src/inspection/parts/visit.js";
import { handTestNamed, outcomeNamed } from "../../../src/inspection/checks/hand-tests.js";
import { washerById } from "../../../src/machine/washers.js";
import type { Component } from "../../../src/machine/words.js";
import { visitLines } from "../../../src/report/visit-text.js";

const found = (check: string, outcome: string) => {
  const test = handTestNamed(check);
  return { test, outcome: outcomeNamed(test, outcome)! };
};

interface Case {
  prices?: Prices;
  ageYears?: number | null;
  findings?: ReturnType<typeof found>[];
  probability?: number;
  machine?: string;
}

const visit = (component: Component, told: Case = {}) =>
  planVisit({
    ranking: [{ component, probability: told.probability ?? 0.8 }],
    machine: washerById(told.machine ?? "front-load-belt-universal"),
    ageYears: told.ageYears === undefined ? 5 : told.ageYears,
    prices: told.prices ?? {},
    findings: told.findings ?? [],
  });
const economy = (component: Component, told: Case = {}) => visit(component, told).economy[0]!;
const said = (component: Component, told: Case = {}): string =>
  visitLines(visit(component, told), 4000).join("\n");

describe("the two rules", () => {
  // Sliding rule from memory, worked by hand: 0.5·(1 − age/14) + 0.15.
  it.each([
    [0, 0.65],
    [7, 0.4],
    [14, 0.15],
    [30, 0],
  ])("at %d years a repair may cost %d of a new machine", (age, limit) => {
    expect(slidingLimit(age)).toBeCloseTo(limit, 9);
  });

  // The 50 % rule as published by the repair trade: both conditions, over half the price and half the life.
  it("replaces only when dearer than half and older than half the life", () => {
    expect(fiftyPercentSaysReplace(0.6, 9)).toBe(true);
    expect(fiftyPercentSaysReplace(0.6, 4)).toBe(false);
    expect(fiftyPercentSaysReplace(0.5, 9)).toBe(false);
  });
});

const prices: Prices = {
  parts: { "drive-belt": 35, "drum-bearing": 60 },
  labourPerHour: 80,
  newMachine: 600,
};

describe("repair or replace", () => {
  it("adds part and labour, least and most", () => {
    // By hand: 35 + 15/60·80 = 55; 35 + 25/60·80 = 68.33.
    const { cost, worth, share } = economy("drive-belt", { prices });
    expect(cost!.total.low).toBeCloseTo(55, 6);
    expect(cost!.total.high).toBeCloseTo(68.333, 3);
    expect(share!.high).toBeCloseTo(0.11389, 4);
    expect(worth).toBe("repair");
  });

  it("takes 1.3 times the labour when built in, and the charge for coming", () => {
    const { cost } = economy("drive-belt", {
      prices: { ...prices, hardAccess: true, callOut: 40 },
    });
    // 35 + 40 + 20·1.3.
    expect(cost!.total.low).toBeCloseTo(101, 6);
  });

  it("gives a range until a hand test confirms the part, then a figure", () => {
    expect(economy("drive-belt", { prices }).figure).toBeNull();
    expect(said("drive-belt", { prices })).toMatch(/55 to 68.*range until a hand test/);
    const confirmed = { prices, findings: [found("belt-look", "fail")] };
    expect(economy("drive-belt", confirmed).figure).toBeCloseTo((55 + 68.333) / 2, 2);
  });

  it("never prices a bearing from sound, nor from a finding made with the belt on", () => {
    const text = said("drum-bearing", { prices });
    expect(text).toMatch(/No bearing is quoted from sound alone/);
    expect(economy("drum-bearing", { prices }).cost).toBeNull();
    const rock = { prices, findings: [found("drum-rock", "fail")] };
    expect(economy("drum-bearing", rock).cost).toBeNull();
    const off = { prices, findings: [found("belt-off-spin", "noise")] };
    expect(economy("drum-bearing", off).cost).not.toBeNull();
    expect(economy("drum-bearing", { ...off, probability: 0.4 }).cost).toBeNull();
  });

  it("names what is missing instead of counting it as nothing", () => {
    expect(economy("drive-belt", { prices: {} }).missing).toEqual([
      "labour-per-hour",
      "price",
      "new-price",
    ]);
    const ageless = economy("drive-belt", { prices, ageYears: null });
    expect(ageless.missing).toEqual(["age"]);
    expect(ageless.worth).toBe("undecided");
  });

  it("calls for replacement when both rules do over the whole range", () => {
    const cheap = { labourPerHour: 80, newMachine: 200, parts: { "drain-pump": 120 } };
    // (120 + 8/60·80)/200 = 0.65 at least.
    expect(economy("drain-pump", { prices: cheap, ageYears: 10 }).worth).toBe("replace");
    expect(economy("drain-pump", { prices: cheap, ageYears: 4 }).worth).toBe("undecided");
  });

  // Hard stops: common practice, no source.
  it.each<[Component, KnownFact[], number, string]>([
    ["drum-bearing", ["welded-tub"], 2, "welded"],
    ["drum-spider", ["corroded-spider"], 2, "corrosion"],
    ["controls", [], 9, "control board"],
    ["drive-belt", ["parts-unobtainable"], 2, "cannot be had"],
  ])("stops at %s with %j at %d years", (component, known, ageYears, word) => {
    const told = { prices: { ...prices, known }, ageYears };
    expect(economy(component, told).worth).toBe("replace");
    expect(said(component, told)).toContain(word);
  });

  it("asks to look for a welded tub, until somebody has looked", () => {
    const findings = [found("belt-off-spin", "noise")];
    expect(economy("drum-bearing", { prices, findings }).lookFirst).toHaveLength(1);
    const known = { ...prices, known: ["opening-tub" as const] };
    expect(economy("drum-bearing", { prices: known, findings }).lookFirst).toHaveLength(0);
  });

  it("shows the sum and the rule", () => {
    const text = said("drive-belt", { prices, ageYears: 7 });
    expect(text).toContain("part 35 + 15 to 25 min at 80 an hour = 55 to 68");
    expect(text).toContain("0.5 × (1 − 7/14) + 0.15 = 40 %");
  });
});

describe("mergePrices(kept, told)", () => {
  it("keeps earlier prices and lets the newest win", () => {
    expect(
      mergePrices({ parts: { "drive-belt": 35 }, labourPerHour: 70 }, { labourPerHour: 80 }),
    ).toEqual({ parts: { "drive-belt": 35 }, labourPerHour: 80 });
  });

  it("lists the parts for one it does not know", () => {
    expect(() => mergePrices(undefined, { parts: { belt: 35 } })).toThrow(/drive-belt.*"belt"/);
  });
});
