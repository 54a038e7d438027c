import type { BeltProfile, Choices, MachineProfile, MotorProfile, Span } from "./profile.js";
import { COMMON_PARTS, PUMP_VANES, SLOT_POLE_PAIRS_DIRECT } from "./shared-parts.data.js";
import type { Component } from "./words.js";

const RATIO_SOURCE =
  "motor to drum 8:1 to 13:1: IEEE document 6063790 (2011), introduction; 11-14 recalled as common";

const TUMBLE: Span = {
  low: 40,
  typical: 47,
  high: 55,
  source: "wash turning of front loaders, recalled",
  provenance: "from memory",
};

const SUSPENSION: Span = {
  low: 100,
  typical: 170,
  high: 350,
  source:
    "six rigid-body modes of the hung tub, recalled; bounce alone 90-180 rpm from 6-14 kN/m and 40-70 kg",
  provenance: "from memory",
};

const BELT: BeltProfile = {
  beltToDrum: {
    low: 0.67,
    typical: 0.7,
    high: 0.74,
    source: "pi D / L for drum pulleys of 250-300 mm and belts of 1180-1300 mm",
    provenance: "computed",
  },
  motorPulleyMm: {
    low: 17,
    typical: 20,
    high: 23,
    source: "effective diameter, often ground into the shaft; recalled",
    provenance: "from memory",
  },
  drumPulleyMm: {
    low: 250,
    typical: 270,
    high: 310,
    source: "cast or pressed pulley with 3-6 spokes; recalled",
    provenance: "from memory",
  },
  lengthMm: {
    low: 1100,
    typical: 1220,
    high: 1300,
    source:
      "J-section effective length; recalled, 1219 mm follows from 270/20 mm at 360 mm centres",
    provenance: "from memory",
  },
  spanMm: {
    low: 300,
    typical: 320,
    high: 340,
    source: "tangent length of the pulleys above at 320-380 mm centres",
    provenance: "computed",
  },
  tensionNewton: {
    low: 80,
    typical: 115,
    high: 160,
    source: "strand tension, recalled",
    provenance: "from memory",
  },
  massKgPerM: {
    low: 0.032,
    typical: 0.045,
    high: 0.07,
    source: "4-7 ribs of J section at 0.008-0.010 kg/m each, recalled",
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

const FRONT_PARTS: readonly Component[] = [
  ...COMMON_PARTS,
  "drum-spider",
  "counterweight",
  "shipping-bolts",
  "door-boot",
  "drum-lifter",
  "recirculation-pump",
];

const FRONT_BELT_PARTS: readonly Component[] = [
  ...FRONT_PARTS,
  "drive-belt",
  "motor-pulley",
  "drum-pulley",
  "motor-bearing",
];

// Usually a pair of which one has 8 balls and one 9; a few large drums run on 7 and 8.
const DRUM_BEARINGS = ["6204", "6205", "6206", "6203", "6207", "6306", "6305", "6208"] as const;

const MOTOR_BEARINGS = ["6202", "6203", "6201", "6200"] as const;

const CARRIER: Span = {
  low: 8000,
  typical: 16_000,
  high: 20_000,
  source: "inverter carrier, commonly 15-16 kHz; recalled",
  provenance: "from memory",
};

const TWO_POLES: Choices = {
  values: [2],
  source: "two-pole stator, recalled",
  provenance: "from memory",
};

const UNIVERSAL: MotorProfile = {
  kind: "universal",
  poles: TWO_POLES,
  slots: {
    values: [12, 11, 10, 13],
    source: "armature slots of washer motors, recalled",
    provenance: "from memory",
  },
  bars: {
    values: [24, 22, 20, 26, 33],
    source: "commutator bars, two or three to a slot; recalled",
    provenance: "from memory",
  },
  slotPolePairs: [],
  bearings: MOTOR_BEARINGS,
};

const INDUCTION: MotorProfile = {
  kind: "induction-inverter",
  poles: TWO_POLES,
  slots: { values: [24], source: "stator slots, recalled", provenance: "from memory" },
  // Between 17 and 30 bars are met: without the machine's own number no line can be placed.
  bars: null,
  slotPolePairs: [],
  bearings: MOTOR_BEARINGS,
};

const INNER_ROTOR: MotorProfile = {
  kind: "permanent-magnet-belt",
  poles: {
    values: [8, 6, 10, 4],
    source: "inner-rotor motors of 4-10 poles, recalled",
    provenance: "from memory",
  },
  slots: { values: [12, 9, 6], source: "stator slots, recalled", provenance: "from memory" },
  bars: null,
  slotPolePairs: [
    [12, 8],
    [9, 6],
    [12, 10],
    [6, 4],
  ],
  bearings: MOTOR_BEARINGS,
};

const OUTER_ROTOR: MotorProfile = {
  kind: "permanent-magnet-direct",
  poles: {
    values: [48, 42, 24, 30, 36, 32, 56],
    source:
      "outer rotor with many pole pairs and fractional slots: IEEE document 6063790 (2011); counts recalled",
    provenance: "from memory",
  },
  slots: { values: [36, 27, 24, 42], source: "stator slots, recalled", provenance: "from memory" },
  bars: null,
  slotPolePairs: SLOT_POLE_PAIRS_DIRECT,
  bearings: null,
};

const FRONT = {
  axis: "horizontal",
  motorToAgitatorInput: null,
  tumbleRpm: TUMBLE,
  strokesPerMinute: null,
  planetary: null,
  pinionTeeth: null,
  drumBearings: DRUM_BEARINGS,
  pumpDrivenBy: "own-motor",
  pumpVanes: PUMP_VANES,
  suspensionRpm: SUSPENSION,
  lifters: 3,
} as const;

/** Front loaders. */
export const FRONT_LOADERS: readonly MachineProfile[] = [
  {
    ...FRONT,
    id: "front-load-belt-universal",
    label: "front loader, ribbed belt, brushed universal motor",
    drive: "belt",
    motor: UNIVERSAL,
    motorToDrum: {
      low: 8,
      typical: 11.5,
      high: 14,
      source: RATIO_SOURCE,
      provenance: "published",
    },
    spinRpm: {
      low: 800,
      typical: 1200,
      high: 1400,
      source: "final spin, recalled",
      provenance: "from memory",
    },
    belt: BELT,
    usualLineHz: 50,
    carrierHz: null,
    components: [...FRONT_BELT_PARTS, "motor-brushes"],
  },
  {
    ...FRONT,
    id: "front-load-belt-induction",
    label: "front loader, ribbed belt, induction motor on an inverter",
    drive: "belt",
    motor: INDUCTION,
    motorToDrum: {
      low: 8,
      typical: 11,
      high: 13,
      source: RATIO_SOURCE,
      provenance: "published",
    },
    spinRpm: {
      low: 800,
      typical: 1100,
      high: 1400,
      source: "final spin, recalled",
      provenance: "from memory",
    },
    belt: BELT,
    usualLineHz: null,
    carrierHz: CARRIER,
    components: FRONT_BELT_PARTS,
  },
  {
    ...FRONT,
    id: "front-load-belt-bldc",
    label: "front loader, ribbed belt, brushless magnet motor",
    drive: "belt",
    motor: INNER_ROTOR,
    motorToDrum: {
      low: 8,
      typical: 10.5,
      high: 13,
      source: `${RATIO_SOURCE}; 8-12 recalled for this motor`,
      provenance: "from memory",
    },
    spinRpm: {
      low: 1000,
      typical: 1400,
      high: 1600,
      source: "final spin, recalled",
      provenance: "from memory",
    },
    belt: BELT,
    usualLineHz: null,
    carrierHz: CARRIER,
    components: FRONT_BELT_PARTS,
  },
  {
    ...FRONT,
    id: "front-load-direct",
    label: "front loader, magnet motor on the drum shaft",
    drive: "direct",
    motor: OUTER_ROTOR,
    motorToDrum: {
      low: 1,
      typical: 1,
      high: 1,
      source: "rotor sits on the drum shaft",
      provenance: "computed",
    },
    spinRpm: {
      low: 800,
      typical: 1300,
      high: 1600,
      source: "final spin, recalled",
      provenance: "from memory",
    },
    belt: null,
    usualLineHz: null,
    carrierHz: CARRIER,
    components: [...FRONT_PARTS, "hub-nut", "rotor-stator"],
  },
];
