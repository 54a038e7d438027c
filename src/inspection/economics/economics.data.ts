import type { Component, Sourced } from "../../machine/words.js";
import type { KnownFact } from "./prices.js";

const memory = {
  source: "minutes of an experienced technician, recalled; differ between makes",
  provenance: "from memory",
} as const;
const trade = { source: "common practice, no source", provenance: "common practice" } as const;

type Range = readonly [low: number, high: number];

/** Minutes to confirm and to mend, machine pulled out. */
export interface EffortRow extends Sourced {
  readonly confirmMinutes: Range;
  readonly fixMinutes: Range;
}

type Mendable = Exclude<Component, "normal" | "other">;

const row = (confirmMinutes: Range, fixMinutes: Range): EffortRow => ({
  confirmMinutes,
  fixMinutes,
  ...memory,
});

export const EFFORT: Readonly<Record<Mendable, EffortRow>> = {
  "drum-bearing": row([5, 15], [90, 240]),
  "drum-spider": row([10, 10], [120, 240]),
  "hub-nut": row([10, 20], [20, 60]),
  "drive-belt": row([5, 5], [10, 20]),
  "motor-pulley": row([10, 10], [20, 40]),
  "drum-pulley": row([5, 5], [10, 30]),
  "motor-bearing": row([10, 10], [30, 90]),
  "motor-brushes": row([10, 10], [20, 40]),
  "clutch-splines": row([10, 10], [20, 45]),
  "shift-actuator": row([5, 10], [15, 30]),
  "gear-case": row([15, 15], [60, 150]),
  "agitator-dogs": row([5, 5], [10, 15]),
  "motor-coupling": row([10, 10], [20, 40]),
  "drain-pump": row([3, 10], [5, 30]),
  suspension: row([5, 5], [20, 60]),
  counterweight: row([10, 10], [15, 40]),
  "unbalanced-load": row([1, 1], [1, 1]),
  levelling: row([5, 5], [10, 10]),
  "shipping-bolts": row([2, 2], [5, 5]),
  "foreign-object": row([10, 20], [15, 120]),
  "loose-panel": row([5, 5], [10, 10]),
  "balance-ring": row([10, 10], [60, 120]),
  "rotor-stator": row([15, 15], [30, 60]),
  "door-boot": row([3, 3], [5, 60]),
  "inlet-valve": row([5, 5], [10, 25]),
  controls: row([10, 10], [15, 40]),
  "drum-lifter": row([3, 3], [5, 15]),
  "spin-brake": row([15, 15], [60, 120]),
  "recirculation-pump": row([5, 10], [15, 30]),
};

/** Price bands as percent of a like-for-like new machine. */
export const BANDS = {
  XS: { low: 0, high: 3, ...memory },
  S: { low: 3, high: 8, ...memory },
  M: { low: 8, high: 20, ...memory },
  L: { low: 20, high: 40, ...memory },
  XL: { low: 40, high: 60, ...memory },
} as const;

interface Figure extends Sourced {
  readonly value: number;
  readonly what: string;
}

const FIFTY_PERCENT = {
  source: "repair-trade pages on the 50 % rule",
  provenance: "published",
} as const;

/** Figures of the repair-or-replace and of the carry rules. */
export const ECONOMY = {
  slidingShare: {
    value: 0.5,
    what: "share of the new price that a repair of a new machine may cost, above the floor",
    source: "repair trade, recalled",
    provenance: "from memory",
  },
  slidingFloor: {
    value: 0.15,
    what: "share that a repair may cost at the end of the machine's life",
    source: "repair trade, recalled",
    provenance: "from memory",
  },
  slidingLifeYears: {
    value: 14,
    what: "age at which only the floor is left, in years",
    source: "repair trade, recalled",
    provenance: "from memory",
  },
  replaceShare: {
    value: 0.5,
    what: "a repair dearer than this share of a new machine",
    ...FIFTY_PERCENT,
  },
  lifeYears: {
    value: 12.6,
    what: "mean life of a washing machine, in years; habits range from 10 to 13",
    source: "European study of washing machine repairs, 2019 (abstract)",
    provenance: "published",
  },
  hardAccessFactor: {
    value: 1.3,
    what: "labour of a built-in or stacked machine",
    source: "repair trade, recalled",
    provenance: "from memory",
  },
  returnPercent: {
    value: 15,
    what: "share of its price that an unused part costs, when not told, in percent",
    source: "a usual restocking charge, recalled",
    provenance: "from memory",
  },
  carryCheapFrom: { value: 0.15, what: "chance from which an XS or S part is carried", ...trade },
  carryDearFrom: {
    value: 0.6,
    what: "chance from which an M or dearer part is ordered, once a hand test confirms it",
    ...trade,
  },
} as const satisfies Record<string, Figure>;

/** What ends the thought of a repair, whatever the sum says. */
export interface HardStop extends Sourced {
  readonly components: readonly Component[];
  /** Seen on the machine; null when age alone decides. */
  readonly fact: KnownFact | null;
  /** Seen instead: the stop does not hold. */
  readonly clearedBy?: KnownFact;
  readonly ageOverYears?: number;
  /** Ends "Replace the machine: ", and "unless ". */
  readonly text: string;
}

export const HARD_STOPS: readonly HardStop[] = [
  {
    components: ["drum-bearing", "drum-spider"],
    fact: "welded-tub",
    clearedBy: "opening-tub",
    text: "the tub is welded, so that bearing and spider come only as a whole tub",
    ...trade,
  },
  {
    components: ["drum-spider"],
    fact: "corroded-spider",
    clearedBy: "sound-spider",
    text: "corrosion has eaten through the spider's arms: stop using it now",
    ...trade,
  },
  {
    components: ["gear-case"],
    fact: "worn-bearing-too",
    text: "gear case and tub bearing are both worn",
    ...trade,
  },
  {
    components: ["hub-nut"],
    fact: "stripped-splines",
    text: "the splines of hub and shaft are stripped",
    ...trade,
  },
  {
    components: ["controls"],
    fact: null,
    ageOverYears: 8,
    text: "a control board in a machine of more than 8 years",
    ...trade,
  },
  {
    components: [],
    fact: "parts-unobtainable",
    text: "the part cannot be had any more",
    ...trade,
  },
];

/** No price is said of these from sound alone. */
export const NO_QUOTE_FROM_SOUND: readonly {
  readonly component: Component;
  readonly text: string;
  readonly source: string;
  readonly provenance: Sourced["provenance"];
}[] = [
  {
    component: "drum-bearing",
    text: "No bearing is quoted from sound alone: motor, belt and bearing can sound the same. Belt off (direct drive: rotor off), spin the drum by hand, then quote.",
    source: "repair-trade articles on bearings, belts and motors taken for each other",
    provenance: "published",
  },
  {
    component: "drum-spider",
    text: "No spider is quoted from sound alone: rock the drum and turn it slowly with the belt off, then quote.",
    ...trade,
  },
];

interface QuoteCheck extends Sourced {
  readonly component: Component;
  /** Hand tests of which one must point at the part. */
  readonly checks: readonly string[];
  /** Also enough on a machine with neither belt nor rotor to take off. */
  readonly withoutBelt: readonly string[];
}

export const QUOTE_CHECKS: readonly QuoteCheck[] = [
  {
    component: "drum-bearing",
    checks: ["belt-off-spin", "rotor-off-spin"],
    withoutBelt: ["hand-spin"],
    source: "repair-trade articles on bearings, belts and motors taken for each other",
    provenance: "published",
  },
  {
    component: "drum-spider",
    checks: ["belt-off-spin", "rotor-off-spin", "drum-rock"],
    withoutBelt: ["hand-spin"],
    ...trade,
  },
];
