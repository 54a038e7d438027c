import type {
  BeltProfile,
  MachineProfile,
  MotorProfile,
  PlanetaryProfile,
  Span,
} from "./profile.js";
import { COMMON_PARTS, PUMP_VANES, SLOT_POLE_PAIRS_DIRECT } from "./shared-parts.data.js";
import type { Component } from "./words.js";

const SUSPENSION: Span = {
  low: 60,
  typical: 130,
  high: 250,
  source: "tub on four rods, recalled; bounce 90-150 rpm, swing 45 rpm for rods of 0.45 m",
  provenance: "from memory",
};

const UNITY: Span = {
  low: 1,
  typical: 1,
  high: 1,
  source: "rotor sits on the shaft it drives",
  provenance: "computed",
};

const BELT: BeltProfile = {
  beltToDrum: {
    low: 0.48,
    typical: 0.505,
    high: 0.53,
    source: "pi D / L for drive pulleys of 140-170 mm and belts of 900-1050 mm",
    provenance: "computed",
  },
  motorPulleyMm: {
    low: 50,
    typical: 60,
    high: 65,
    source: "recalled",
    provenance: "from memory",
  },
  drumPulleyMm: {
    low: 135,
    typical: 150,
    high: 170,
    source: "drive pulley, plastic; recalled",
    provenance: "from memory",
  },
  lengthMm: {
    low: 800,
    typical: 950,
    high: 1050,
    source: "V-belt, or ribbed belt of 3-5 ribs; recalled",
    provenance: "from memory",
  },
  spanMm: {
    low: 200,
    typical: 240,
    high: 280,
    source: "tangent length of the pulleys above",
    provenance: "computed",
  },
  tensionNewton: {
    low: 60,
    typical: 110,
    high: 160,
    source: "strand tension, recalled",
    provenance: "from memory",
  },
  massKgPerM: {
    low: 0.03,
    typical: 0.06,
    high: 0.09,
    source: "narrow V-belt or 3-5 ribs, recalled",
    provenance: "from memory",
  },
  healthySlip: {
    low: 0,
    typical: 0.01,
    high: 0.02,
    source: "creep of a sound belt, common practice, no source",
    provenance: "common practice",
  },
};

/**
 * Tooth counts are not published for most machines. These are the sets near 5:1 that can be
 * assembled: ring = sun + 2 planet, or one tooth off by profile shift, and (sun + ring) / planets whole.
 */
const PLANETARY: PlanetaryProfile = {
  sets: [
    { sun: 16, planet: 24, ring: 64, planets: 4 },
    { sun: 12, planet: 18, ring: 48, planets: 4 },
    { sun: 20, planet: 30, ring: 80, planets: 4 },
    { sun: 16, planet: 26, ring: 68, planets: 4 },
    { sun: 17, planet: 25, ring: 67, planets: 4 },
    { sun: 18, planet: 27, ring: 72, planets: 3 },
    { sun: 15, planet: 21, ring: 57, planets: 3 },
    { sun: 16, planet: 23, ring: 62, planets: 3 },
  ],
  reduction: {
    low: 4.8,
    typical: 5,
    high: 5.25,
    source: "about 5:1 with four planets, one example of the trade; tooth counts worked out",
    provenance: "common practice",
  },
};

// A mains motor of four poles; the stator has 24 or 36 slots.
const MAINS_MOTOR: MotorProfile = {
  kind: "induction-mains",
  poles: {
    values: [4],
    source: "4-pole split-phase or capacitor motor, 1725 rpm at 60 Hz, 1435 rpm at 50 Hz; recalled",
    provenance: "from memory",
  },
  slots: { values: [36, 24], source: "stator slots, recalled", provenance: "from memory" },
  // Between 30 and 48 rotor bars are met: without the machine's own number no line can be placed.
  bars: null,
  slotPolePairs: [],
  bearings: ["6202", "6203"],
};

const OUTER_ROTOR: MotorProfile = {
  kind: "permanent-magnet-direct",
  poles: {
    values: [48, 42, 24, 30, 36, 32, 56],
    source: "outer-rotor magnet motors, recalled",
    provenance: "from memory",
  },
  slots: { values: [36, 27, 24, 42], source: "stator slots, recalled", provenance: "from memory" },
  bars: null,
  slotPolePairs: SLOT_POLE_PAIRS_DIRECT,
  bearings: null,
};

const CARRIER: Span = {
  low: 8000,
  typical: 16_000,
  high: 20_000,
  source: "inverter carrier, commonly 15-16 kHz; recalled",
  provenance: "from memory",
};

const STROKES: Span = {
  low: 40,
  typical: 90,
  high: 150,
  source: "strokes of 0.3-1 s with short pauses, recalled",
  provenance: "from memory",
};

// 60-90 full to-and-fro cycles a minute are two strokes each.
const GEARED_STROKES: Span = {
  low: 120,
  typical: 140,
  high: 180,
  source: "60-90 full cycles per minute, recalled",
  provenance: "from memory",
};

const TOP_PARTS: readonly Component[] = [...COMMON_PARTS, "hub-nut", "agitator-dogs"];

const TOP = {
  axis: "vertical",
  tumbleRpm: null,
  pinionTeeth: null,
  drumBearings: ["6206", "6006", "6005", "6004"],
  pumpVanes: PUMP_VANES,
  suspensionRpm: SUSPENSION,
  lifters: 0,
} as const;

/** Top loaders. */
export const TOP_LOADERS: readonly MachineProfile[] = [
  {
    ...TOP,
    id: "top-load-belt",
    label: "top loader, belt, mode shifter and planetary gear case",
    drive: "belt",
    motor: MAINS_MOTOR,
    motorToDrum: {
      low: 2.3,
      typical: 2.5,
      high: 2.7,
      source: "pulleys only, recalled",
      provenance: "from memory",
    },
    motorToAgitatorInput: {
      low: 2.3,
      typical: 2.5,
      high: 2.7,
      source: "pulleys only, recalled",
      provenance: "from memory",
    },
    spinRpm: {
      low: 600,
      typical: 700,
      high: 1000,
      source: "final spin; above 850 with an inverter motor; recalled",
      provenance: "from memory",
    },
    strokesPerMinute: STROKES,
    belt: BELT,
    planetary: PLANETARY,
    usualLineHz: 60,
    pumpDrivenBy: "own-motor",
    carrierHz: null,
    components: [
      ...TOP_PARTS,
      "drive-belt",
      "motor-pulley",
      "drum-pulley",
      "motor-bearing",
      "clutch-splines",
      "shift-actuator",
      "gear-case",
      "recirculation-pump",
    ],
  },
  {
    ...TOP,
    id: "top-load-direct",
    label: "top loader, magnet motor under the tub, agitator on the same shaft",
    drive: "direct",
    motor: OUTER_ROTOR,
    motorToDrum: UNITY,
    motorToAgitatorInput: UNITY,
    spinRpm: {
      low: 650,
      typical: 850,
      high: 1100,
      source: "final spin, recalled",
      provenance: "from memory",
    },
    strokesPerMinute: STROKES,
    belt: null,
    planetary: null,
    usualLineHz: null,
    pumpDrivenBy: "own-motor",
    carrierHz: CARRIER,
    components: [...TOP_PARTS, "rotor-stator", "shift-actuator", "recirculation-pump"],
  },
  {
    ...TOP,
    id: "top-load-direct-geared",
    label: "top loader, magnet motor under the tub, planetary reducer to the pulsator",
    drive: "direct",
    motor: OUTER_ROTOR,
    motorToDrum: UNITY,
    motorToAgitatorInput: UNITY,
    spinRpm: {
      low: 650,
      typical: 800,
      high: 900,
      source: "final spin, recalled",
      provenance: "from memory",
    },
    strokesPerMinute: STROKES,
    belt: null,
    planetary: PLANETARY,
    usualLineHz: null,
    pumpDrivenBy: "own-motor",
    carrierHz: CARRIER,
    components: [...TOP_PARTS, "rotor-stator", "shift-actuator", "gear-case", "recirculation-pump"],
  },
  {
    ...TOP,
    id: "top-load-coupled",
    label: "older top loader, motor coupling and oil-filled gear case, pump on the motor shaft",
    drive: "coupling",
    motor: MAINS_MOTOR,
    motorToDrum: {
      low: 2.6,
      typical: 2.7,
      high: 2.8,
      source: "640 rpm from 1725 rpm in the gear case, recalled",
      provenance: "from memory",
    },
    motorToAgitatorInput: null,
    spinRpm: {
      low: 520,
      typical: 640,
      high: 640,
      source: "final spin, recalled",
      provenance: "from memory",
    },
    strokesPerMinute: GEARED_STROKES,
    belt: null,
    planetary: null,
    usualLineHz: 60,
    pumpDrivenBy: "wash-motor",
    carrierHz: null,
    components: [...TOP_PARTS, "motor-bearing", "motor-coupling", "gear-case", "spin-brake"],
  },
  {
    ...TOP,
    id: "top-load-belt-reversing",
    label: "older top loader, belt and mechanical transmission, reversing motor",
    drive: "belt",
    motor: MAINS_MOTOR,
    motorToDrum: {
      low: 2.65,
      typical: 2.8,
      high: 2.95,
      source: "about 2.7-2.9, recalled",
      provenance: "from memory",
    },
    motorToAgitatorInput: {
      low: 2.65,
      typical: 2.8,
      high: 2.95,
      source: "same pulleys as in the spin, recalled",
      provenance: "from memory",
    },
    spinRpm: {
      low: 500,
      typical: 600,
      high: 640,
      source: "final spin, recalled",
      provenance: "from memory",
    },
    strokesPerMinute: GEARED_STROKES,
    belt: BELT,
    planetary: null,
    usualLineHz: 60,
    pumpDrivenBy: "wash-motor",
    carrierHz: null,
    components: [
      ...TOP_PARTS,
      "drive-belt",
      "motor-pulley",
      "drum-pulley",
      "motor-bearing",
      "gear-case",
      "spin-brake",
    ],
  },
];
