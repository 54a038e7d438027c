import type { MachineProfile, Span } from "../../src/machine/profile.js";
import type { Dice } from "./dice.js";

/** Balls, ball and pitch diameter in mm: ISO 15 sizes, ball data as bearing catalogues commonly print them. */
export const BALLS: Record<string, readonly [balls: number, ballMm: number, pitchMm: number]> = {
  "608": [7, 3.969, 15],
  "6200": [7, 5.556, 20],
  "6201": [7, 5.953, 22],
  "6202": [8, 5.953, 25],
  "6203": [8, 6.747, 28.5],
  "6204": [8, 7.938, 33.5],
  "6205": [9, 7.938, 38.5],
  "6206": [9, 9.525, 46],
  "6207": [9, 11.112, 53.5],
  "6208": [9, 12, 60],
  "6306": [8, 12, 51],
  "6307": [8, 13.49, 57.5],
  "6004": [9, 6.35, 31],
  "6005": [10, 6.747, 36],
  "6006": [11, 7.144, 42.5],
};

/** Events of a rolling bearing for each turn of its inner ring. */
export interface BearingOrders {
  outer: number;
  inner: number;
  ball: number;
  cage: number;
}

/** Kinematics without slip (Randall and Antoni, 2011, table 1): outer = Z/2 (1 - g), inner = Z/2 (1 + g). */
export function bearingOrders(designation: string): BearingOrders {
  const [balls, ball, pitch] = BALLS[designation]!;
  const g = ball / pitch;
  return {
    outer: (balls / 2) * (1 - g),
    inner: (balls / 2) * (1 + g),
    ball: (1 - g * g) / g,
    cage: (1 - g) / 2,
  };
}

/** Belt turns for each turn of the pulley it drives: the length of its rim over the belt's. */
export const beltTurnsPerPulleyTurn = (pulleyMm: number, beltMm: number): number =>
  (Math.PI * pulleyMm) / beltMm;

/** One machine, all its numbers drawn. */
export interface Machine {
  profile: MachineProfile;
  vertical: boolean;
  lineHz: 50 | 60;
  /** Motor turns for each turn of the drum in the spin. */
  motorToDrum: number;
  /** Turns of the motor for each turn of the drive pulley, or of the agitator's input. */
  motorToInput: number;
  /** Input turns for each agitator turn. */
  reduction: number;
  beltPerInput: number;
  polePairs: number;
  slots: number;
  bars: number;
  motorSlip: number;
  /** Gear teeth that pass for each turn of the gear case's input. */
  meshPerInput: number;
  planets: number;
  drumBearings: BearingOrders[];
  motorBearing: BearingOrders;
  pumpVanes: number;
  pumpSlip: number;
  carrierHz: number | null;
  suspensionRpm: number;
  spinRpm: number;
}

const within = (span: Span, dice: Dice): number =>
  dice.chance(0.5)
    ? dice.between(span.low, span.high)
    : span.typical +
      (dice.chance(0.5) ? span.high - span.typical : span.low - span.typical) * dice.next() ** 2;

function drawLine(profile: MachineProfile, dice: Dice): 50 | 60 {
  if (profile.usualLineHz === null || dice.chance(0.1)) return dice.chance(0.5) ? 50 : 60;
  return profile.usualLineHz;
}

function drawBelt(profile: MachineProfile, dice: Dice): number {
  const belt = profile.belt;
  if (belt === null) return 0;
  for (let round = 0; round < 50; round++) {
    const rate = beltTurnsPerPulleyTurn(
      within(belt.drumPulleyMm, dice),
      within(belt.lengthMm, dice),
    );
    if (rate > 0.98 * belt.beltToDrum.low && rate < 1.02 * belt.beltToDrum.high) return rate;
  }
  return belt.beltToDrum.typical;
}

/** Sun and ring that mesh: ring held, teeth passing for each sun turn = S R / (S + R) (textbook kinematics). */
function drawGears(
  profile: MachineProfile,
  dice: Dice,
): Pick<Machine, "reduction" | "meshPerInput" | "planets"> {
  if (profile.planetary !== null) {
    const { sun, ring, planets } = dice.pick(profile.planetary.sets);
    return { reduction: 1 + ring / sun, meshPerInput: (sun * ring) / (sun + ring), planets };
  }
  // An older gear case: a pinion on the motor or pulley, its teeth not published.
  return { reduction: 1, meshPerInput: dice.whole(9, 24), planets: dice.whole(1, 3) };
}

function drawPoles(
  profile: MachineProfile,
  dice: Dice,
): Pick<Machine, "polePairs" | "slots" | "bars"> {
  const { motor } = profile;
  if (motor.slotPolePairs.length > 0) {
    const [slots, poles] = dice.pick(motor.slotPolePairs);
    return { polePairs: poles / 2, slots, bars: 0 };
  }
  const bars = motor.bars ? dice.pick(motor.bars.values) : dice.whole(17, 46);
  const slots = motor.slots ? dice.pick(motor.slots.values) : dice.pick([24, 36]);
  return { polePairs: motor.poles.values[0]! / 2, slots, bars };
}

export function drawMachine(profile: MachineProfile, dice: Dice): Machine {
  const lineHz = drawLine(profile, dice);
  const motorSlip = dice.between(0.015, 0.08);
  const known = (names: readonly string[]): string[] => names.filter((name) => name in BALLS);
  const drumNames = known(profile.drumBearings);
  const motorNames = known(profile.motor.bearings ?? ["6203"]);
  const motorToDrum = within(profile.motorToDrum, dice);
  const mainsMotorRpm = 30 * lineHz * (1 - motorSlip);
  const mains = profile.motor.kind === "induction-mains";
  return {
    profile,
    vertical: profile.axis === "vertical",
    lineHz,
    motorToDrum,
    motorToInput:
      profile.motorToAgitatorInput === null
        ? profile.drive === "coupling"
          ? 1
          : motorToDrum
        : motorToDrum,
    beltPerInput: drawBelt(profile, dice),
    ...drawPoles(profile, dice),
    ...drawGears(profile, dice),
    motorSlip,
    drumBearings: [dice.pick(drumNames), dice.pick(drumNames)].map(bearingOrders),
    motorBearing: bearingOrders(dice.pick(motorNames)),
    pumpVanes: dice.pick(profile.pumpVanes.values),
    pumpSlip: dice.chance(0.75) ? 0 : dice.between(0.02, 0.13),
    carrierHz: profile.carrierHz === null ? null : within(profile.carrierHz, dice),
    suspensionRpm: within(profile.suspensionRpm, dice),
    spinRpm: mains ? mainsMotorRpm / motorToDrum : within(profile.spinRpm, dice),
  };
}
