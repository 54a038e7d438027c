import type { FastenerTrap, ToolRow } from "./kit.js";

const memory = {
  source: "tools and hexagons of the repair trade, recalled; differ between makes",
  provenance: "from memory",
} as const;
const trade = { source: "common practice, no source", provenance: "common practice" } as const;

/** On every visit. */
export const BASIC_TOOLS: readonly string[] = [
  "screwdrivers and pliers",
  "socket set, inch and metric",
  "torch and mirror",
  "meter with its leads",
  "gloves and eye protection",
  "towels and a low tray",
];

export const TOOLS: readonly ToolRow[] = [
  {
    component: "drum-bearing",
    axis: "horizontal",
    tools: ["bearing puller or soft drift", "bearing and seal drivers", "torque wrench"],
    hexagons: ["13 mm", "17 mm", "19 mm"],
    ...memory,
  },
  {
    component: "drum-bearing",
    axis: "vertical",
    tools: [
      "bearing puller or soft drift",
      "bearing and seal drivers",
      "spanner for the hub nut",
      "two people and a block, to tip the machine",
    ],
    hexagons: ["7/16 in", "1/2 in", "9/16 in"],
    ...memory,
  },
  {
    component: "drum-spider",
    tools: ["bearing puller or soft drift", "bearing and seal drivers", "torque wrench"],
    hexagons: ["13 mm", "17 mm", "19 mm"],
    ...memory,
  },
  {
    component: "hub-nut",
    tools: ["spanner for the hub nut", "soft hammer", "torque wrench"],
    hexagons: ["7/16 in"],
    ...memory,
  },
  {
    component: "drive-belt",
    tools: ["two people and a block, to tip the machine"],
    axis: "vertical",
    hexagons: ["5/16 in", "7/16 in"],
    ...memory,
  },
  {
    component: "drive-belt",
    tools: [],
    axis: "horizontal",
    hexagons: ["8 mm", "10 mm"],
    ...memory,
  },
  {
    component: "motor-pulley",
    tools: ["pulley puller", "hexagon keys"],
    hexagons: ["9/16 in"],
    ...memory,
  },
  {
    component: "drum-pulley",
    tools: ["torque wrench", "bar to hold the pulley"],
    hexagons: ["9/16 in", "17 mm", "19 mm"],
    ...memory,
  },
  {
    component: "motor-bearing",
    tools: ["bearing puller or soft drift"],
    hexagons: ["10 mm", "13 mm"],
    ...memory,
  },
  { component: "motor-brushes", tools: ["hexagon keys"], hexagons: ["10 mm", "13 mm"], ...memory },
  {
    component: "clutch-splines",
    tools: ["two people and a block, to tip the machine", "spring hook"],
    hexagons: ["5/16 in", "7/16 in", "9/16 in"],
    ...memory,
  },
  {
    component: "shift-actuator",
    tools: ["two people and a block, to tip the machine"],
    hexagons: ["1/4 in", "5/16 in"],
    ...memory,
  },
  {
    component: "gear-case",
    tools: ["two people and a block, to tip the machine", "hub puller", "spanner for the hub nut"],
    hexagons: ["7/16 in", "1/2 in", "9/16 in"],
    ...memory,
  },
  {
    component: "agitator-dogs",
    tools: ["long socket extension"],
    hexagons: ["7/16 in", "1/2 in"],
    ...memory,
  },
  {
    component: "motor-coupling",
    tools: ["soft hammer"],
    hexagons: ["1/4 in", "1/2 in"],
    ...memory,
  },
  {
    component: "drain-pump",
    tools: ["hose clamp pliers"],
    hexagons: ["5/16 in", "10 mm"],
    ...memory,
  },
  {
    component: "recirculation-pump",
    tools: ["hose clamp pliers"],
    hexagons: ["8 mm", "10 mm"],
    ...memory,
  },
  { component: "suspension", tools: ["spring hook"], hexagons: ["13 mm"], ...memory },
  { component: "counterweight", tools: ["torque wrench"], hexagons: ["13 mm"], ...memory },
  { component: "levelling", tools: ["spirit level"], hexagons: ["9/16 in", "17 mm"], ...memory },
  { component: "shipping-bolts", tools: [], hexagons: ["10 mm", "13 mm"], ...memory },
  { component: "foreign-object", tools: ["grabber"], hexagons: ["10 mm"], ...memory },
  { component: "loose-panel", tools: [], hexagons: ["1/4 in", "5/16 in"], ...memory },
  { component: "balance-ring", tools: [], hexagons: ["10 mm"], ...memory },
  {
    component: "rotor-stator",
    tools: ["rotor puller", "torque wrench"],
    hexagons: ["17 mm", "10 mm"],
    ...memory,
  },
  { component: "door-boot", tools: ["band tool or spring pliers"], hexagons: ["7 mm"], ...memory },
  { component: "inlet-valve", tools: ["pliers for the hoses"], hexagons: [], ...memory },
  {
    component: "spin-brake",
    tools: ["two people and a block, to tip the machine"],
    hexagons: ["7/16 in"],
    ...memory,
  },
];

export const FASTENER_TRAPS: readonly FastenerTrap[] = [
  {
    components: ["hub-nut", "drum-bearing", "gear-case"],
    axis: "vertical",
    text: "The hub nut of some top loaders has a left-hand thread: it tightens counter-clockwise and comes off clockwise. Look at the thread, or at the arrow on the nut, before hitting the spanner.",
    ...trade,
  },
  {
    components: ["motor-pulley", "drum-pulley", "motor-bearing"],
    text: "Pulley bolts, and nuts on motor shafts, may have a left-hand thread where the turning would loosen a right-hand one. Look before you lean on it.",
    ...trade,
  },
];
