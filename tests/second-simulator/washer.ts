import type { MachineProfileId } from "../../src/machine/words.js";
import type { Dice } from "./dice.js";
import { drawBank, type Bank, type BankShape } from "./filters.js";

/** Deep-groove ball bearing, dimensions in mm (bores per ISO 15; ball data from memory). */
export interface Ball {
  balls: number;
  ballMm: number;
  pitchMm: number;
  contactDeg: number;
}

const B6201 = { balls: 7, ballMm: 5.953, pitchMm: 22 };
const B6202 = { balls: 8, ballMm: 5.953, pitchMm: 25 };
const B6203 = { balls: 8, ballMm: 6.747, pitchMm: 28.5 };
const B6204 = { balls: 8, ballMm: 7.938, pitchMm: 33.5 };
const B6205 = { balls: 9, ballMm: 7.938, pitchMm: 38.5 };
const B6206 = { balls: 9, ballMm: 9.525, pitchMm: 46 };
const B6207 = { balls: 9, ballMm: 11.112, pitchMm: 53.5 };
const B6305 = { balls: 7, ballMm: 11.51, pitchMm: 44 };
const B6306 = { balls: 8, ballMm: 12, pitchMm: 51 };
const B6005 = { balls: 10, ballMm: 6.747, pitchMm: 36 };
const B6006 = { balls: 11, ballMm: 7.144, pitchMm: 42.5 };
const B6200 = { balls: 7, ballMm: 5.556, pitchMm: 20 };

export type MotorKind =
  "single-phase" | "universal" | "inverter-induction" | "inner-magnet" | "outer-magnet";

export interface Motor {
  kind: MotorKind;
  polePairs: number;
  slots: number;
  bars: number;
  /** Speed on the line with load, Hz; only for line-fed motors. */
  lineSpeedHz: number;
  pwmHz: number;
  triac: boolean;
}

export interface Gear {
  kind: "planetary" | "pinion";
  sunTeeth: number;
  planetTeeth: number;
  ringTeeth: number;
  planets: number;
  /** Motor (or pulley) turns per agitator turn. */
  reduction: number;
}

export type Path =
  "tub" | "motor" | "cabinet" | "panel" | "pump" | "plastic" | "metal" | "pipe" | "box" | "air";

export interface Washer {
  profile: MachineProfileId;
  topLoad: boolean;
  belt: boolean;
  lineHz: 50 | 60;
  ageYears: number;
  motor: Motor;
  motorToDrum: number;
  motorPulleyMm: number;
  drumPulleyMm: number;
  beltMm: number;
  ribs: number;
  drumBearings: readonly [Ball, Ball];
  motorBearing: Ball;
  gear: Gear | null;
  drumRadiusM: number;
  spinRpm: number;
  washRpm: number;
  bounceHz: number;
  swayHz: number;
  tubDamping: number;
  unbalanceM: number;
  tubGapM: number;
  vanes: number;
  /** Drain pump turned by the wash motor. */
  pumpOnMotor: boolean;
  dualAgitator: boolean;
  recirculation: boolean;
  ballRing: boolean;
  banks: Record<Path, Bank>;
}

const SHAPES: Record<Path, BankShape> = {
  tub: { lowHz: 70, highHz: 6500, count: 18, tiltDbPerOctave: -3.5, damping: [0.012, 0.06] },
  motor: { lowHz: 110, highHz: 7500, count: 16, tiltDbPerOctave: -4, damping: [0.01, 0.05] },
  cabinet: { lowHz: 45, highHz: 3200, count: 16, tiltDbPerOctave: -4.5, damping: [0.01, 0.06] },
  panel: { lowHz: 120, highHz: 5500, count: 14, tiltDbPerOctave: -3, damping: [0.008, 0.04] },
  pump: { lowHz: 90, highHz: 5000, count: 14, tiltDbPerOctave: -4.5, damping: [0.015, 0.07] },
  plastic: { lowHz: 300, highHz: 5000, count: 10, tiltDbPerOctave: -3.5, damping: [0.03, 0.09] },
  metal: { lowHz: 1300, highHz: 11000, count: 10, tiltDbPerOctave: -1.5, damping: [0.002, 0.012] },
  pipe: { lowHz: 35, highHz: 900, count: 8, tiltDbPerOctave: -4.5, damping: [0.02, 0.07] },
  box: { lowHz: 900, highHz: 9000, count: 10, tiltDbPerOctave: -2, damping: [0.02, 0.08] },
  air: { lowHz: 180, highHz: 9000, count: 18, tiltDbPerOctave: -6, damping: [0.15, 0.4] },
};

const DIRECT_WINDINGS = [
  [36, 24],
  [36, 21],
  [36, 12],
  [27, 12],
  [36, 15],
  [27, 18],
  [24, 16],
  [42, 28],
] as const;
const INNER_WINDINGS = [
  [6, 2],
  [9, 3],
  [12, 4],
  [12, 5],
] as const;
const PLANETARIES = [
  [12, 18, 48, 4],
  [16, 24, 64, 4],
  [20, 30, 80, 4],
  [16, 26, 68, 4],
  [17, 25, 67, 4],
  [18, 27, 72, 3],
  [15, 21, 57, 3],
  [16, 23, 62, 3],
] as const;

function drawMotor(dice: Dice, kind: MotorKind, lineHz: number): Motor {
  const base = {
    kind,
    polePairs: 2,
    slots: 24,
    bars: 34,
    lineSpeedHz: 0,
    pwmHz: dice.pick([8000, 10000, 12000, 15000, 15600, 16000]),
    triac: false,
  };
  switch (kind) {
    case "single-phase":
      return {
        ...base,
        slots: dice.pick([24, 36]),
        bars: dice.whole(30, 48),
        lineSpeedHz: (lineHz / 2) * (1 - dice.range(0.03, 0.06)),
      };
    case "universal":
      return {
        ...base,
        polePairs: 1,
        ...dice.pick([
          { slots: 12, bars: 24 },
          { slots: 11, bars: 22 },
          { slots: 11, bars: 33 },
          { slots: 10, bars: 20 },
          { slots: 13, bars: 26 },
        ]),
        triac: dice.chance(0.7),
      };
    case "inverter-induction":
      return { ...base, polePairs: dice.chance(0.8) ? 1 : 2, bars: dice.whole(17, 30) };
    case "inner-magnet": {
      const [slots, polePairs] = dice.pick(INNER_WINDINGS);
      return { ...base, slots, polePairs };
    }
    case "outer-magnet": {
      const [slots, polePairs] = dice.pick(DIRECT_WINDINGS);
      return { ...base, slots, polePairs };
    }
  }
}

function motorKindOf(profile: MachineProfileId, dice: Dice): MotorKind {
  switch (profile) {
    case "top-load-belt":
      return dice.chance(0.65) ? "single-phase" : "inner-magnet";
    case "top-load-coupled":
    case "top-load-belt-reversing":
      return "single-phase";
    case "front-load-belt-universal":
      return "universal";
    case "front-load-belt-induction":
      return "inverter-induction";
    case "front-load-belt-bldc":
      return "inner-magnet";
    default:
      return "outer-magnet";
  }
}

function drawGear(profile: MachineProfileId, dice: Dice): Gear | null {
  if (profile === "top-load-belt" || profile === "top-load-direct-geared") {
    const [sunTeeth, planetTeeth, ringTeeth, planets] = dice.pick(PLANETARIES);
    return {
      kind: "planetary",
      sunTeeth,
      planetTeeth,
      ringTeeth,
      planets,
      reduction: 1 + ringTeeth / sunTeeth,
    };
  }
  if (profile === "top-load-coupled" || profile === "top-load-belt-reversing") {
    return {
      kind: "pinion",
      sunTeeth: dice.whole(9, 14),
      planetTeeth: 0,
      ringTeeth: dice.whole(55, 90),
      planets: 1,
      reduction: dice.range(15, 24),
    };
  }
  return null;
}

interface Ratios {
  motorToDrum: number;
  motorPulleyMm: number;
  drumPulleyMm: number;
  beltMm: number;
}

function drawRatios(profile: MachineProfileId, topLoad: boolean, dice: Dice): Ratios {
  if (profile.includes("direct"))
    return { motorToDrum: 1, motorPulleyMm: 0, drumPulleyMm: 0, beltMm: 0 };
  if (profile === "top-load-coupled") {
    return { motorToDrum: dice.range(2.5, 3), motorPulleyMm: 0, drumPulleyMm: 0, beltMm: 0 };
  }
  const motorPulleyMm = topLoad ? dice.range(50, 65) : dice.range(18, 25);
  const ratio = topLoad ? dice.range(2.25, 2.9) : dice.range(8.5, 14);
  const drumPulleyMm = topLoad ? motorPulleyMm * ratio : Math.min(320, motorPulleyMm * ratio);
  const beltMm = topLoad
    ? dice.range(4.9, 6.6) * drumPulleyMm
    : dice.range(4.2, 4.7) * drumPulleyMm;
  return {
    motorToDrum: drumPulleyMm / motorPulleyMm / (1 - dice.range(0, 0.015)),
    motorPulleyMm,
    drumPulleyMm,
    beltMm,
  };
}

const SPIN_RPM: Record<MachineProfileId, readonly [number, number]> = {
  "top-load-belt": [580, 900],
  "top-load-direct": [600, 1100],
  "top-load-direct-geared": [600, 950],
  "top-load-coupled": [500, 660],
  "top-load-belt-reversing": [480, 660],
  "front-load-belt-universal": [600, 1400],
  "front-load-belt-induction": [700, 1400],
  "front-load-belt-bldc": [800, 1600],
  "front-load-direct": [700, 1600],
};

/** A washer with dimensions of its own, drawn inside and a little beyond what the trade builds. */
export function drawWasher(profile: MachineProfileId, dice: Dice): Washer {
  const topLoad = profile.startsWith("top-load");
  const lineHz = dice.chance(topLoad ? 0.75 : 0.3) ? 60 : 50;
  const motor = drawMotor(dice, motorKindOf(profile, dice), lineHz);
  const ratios = drawRatios(profile, topLoad, dice);
  const [low, high] = SPIN_RPM[profile];
  const lineSpun = motor.kind === "single-phase";
  const contactDeg = topLoad ? dice.range(0, 20) : dice.range(0, 12);
  const frontPairs = [
    [B6203, B6204],
    [B6204, B6205],
    [B6205, B6206],
    [B6206, B6207],
    [B6305, B6306],
  ] as const;
  const topPairs = [
    [B6005, B6006],
    [B6006, B6205],
    [B6205, B6206],
    [B6204, B6006],
  ] as const;
  const [a, b] = dice.pick<readonly [Omit<Ball, "contactDeg">, Omit<Ball, "contactDeg">]>(
    topLoad ? topPairs : frontPairs,
  );
  const ends = dice.pick([B6200, B6201, B6202, B6203]);
  const banks = {} as Record<Path, Bank>;
  for (const path of Object.keys(SHAPES) as Path[])
    banks[path] = drawBank(dice.part(path), varied(dice, SHAPES[path]));
  return {
    profile,
    topLoad,
    belt: ratios.beltMm > 0,
    lineHz,
    ageYears: Math.round(dice.range(1, 16)),
    motor,
    ...ratios,
    ribs: dice.whole(3, 7),
    drumBearings: [
      { ...a, contactDeg },
      { ...b, contactDeg },
    ],
    motorBearing: { ...ends, contactDeg: dice.range(0, 8) },
    gear: drawGear(profile, dice),
    drumRadiusM: dice.range(0.2, 0.28),
    spinRpm: lineSpun ? (60 * motor.lineSpeedHz) / ratios.motorToDrum : dice.range(low, high),
    washRpm: topLoad ? dice.range(50, 130) : dice.range(38, 56),
    bounceHz: dice.range(1.5, 3),
    swayHz: dice.range(1, 2.4),
    tubDamping: dice.range(0.12, 0.3),
    unbalanceM: dice.ratio(0.0006, 0.002),
    tubGapM: dice.range(0.012, 0.022),
    vanes: dice.whole(4, 8),
    pumpOnMotor: profile === "top-load-coupled" || profile === "top-load-belt-reversing",
    dualAgitator: topLoad && dice.chance(0.4),
    recirculation: dice.chance(0.3),
    ballRing: topLoad || dice.chance(0.3),
    banks,
  };
}

function varied(dice: Dice, shape: BankShape): BankShape {
  return {
    ...shape,
    lowHz: shape.lowHz * dice.ratio(0.8, 1.3),
    highHz: shape.highHz * dice.ratio(0.75, 1.25),
    tiltDbPerOctave: shape.tiltDbPerOctave + dice.range(-2, 2),
    count: shape.count + dice.whole(-3, 3),
  };
}
