import { FRONT_LOADERS } from "../../src/machine/front-load.data.js";
import { TOP_LOADERS } from "../../src/machine/top-load.data.js";
import type { Component, MachineProfileId } from "../../src/machine/words.js";
import type { Dice } from "./dice.js";

export type MotorKind = "mains" | "universal" | "inverter" | "magnet-belt" | "direct";

/** Rates of a ball bearing, per turn of its shaft. */
export interface Race {
  readonly outer: number;
  readonly inner: number;
  readonly cage: number;
}

/** One washer, drawn with numbers of its own. */
export interface Machine {
  readonly id: MachineProfileId;
  readonly front: boolean;
  readonly motor: MotorKind;
  readonly lineHz: 50 | 60;
  /** Motor turns per drum turn in the spin; 1 for a direct drive. */
  readonly ratio: number;
  /** Belt turns per drum turn; null without a belt. */
  readonly beltPerDrum: number | null;
  readonly drumRace: Race;
  readonly motorRace: Race;
  /** Magnet poles, stator slots and, of a brushed motor, commutator bars. */
  readonly poles: number;
  readonly slots: number;
  readonly bars: number;
  /** Gear-mesh rate per turn of the gear case's input. */
  readonly meshPerInput: number;
  readonly carrierPerInput: number;
  readonly vanes: number;
  readonly linePump: boolean;
  /** Its own pump, or driven by the wash motor. */
  readonly pumpOnMotor: boolean;
  readonly carrierHz: number;
  readonly topSpinRpm: number;
  readonly criticalRpm: number;
  readonly ageYears: number;
}

const ROWS: Readonly<
  Record<MachineProfileId, { motor: MotorKind; ratio: [number, number]; spin: [number, number] }>
> = {
  "top-load-belt": { motor: "mains", ratio: [2.2, 2.8], spin: [560, 1000] },
  "top-load-direct": { motor: "direct", ratio: [1, 1], spin: [620, 1100] },
  "top-load-direct-geared": { motor: "direct", ratio: [1, 1], spin: [620, 950] },
  "top-load-coupled": { motor: "mains", ratio: [2.55, 2.85], spin: [500, 660] },
  "top-load-belt-reversing": { motor: "mains", ratio: [2.6, 3], spin: [500, 660] },
  "front-load-belt-universal": { motor: "universal", ratio: [8, 14.5], spin: [600, 1450] },
  "front-load-belt-induction": { motor: "inverter", ratio: [7.5, 13.5], spin: [750, 1450] },
  "front-load-belt-bldc": { motor: "magnet-belt", ratio: [7.5, 13.5], spin: [900, 1600] },
  "front-load-direct": { motor: "direct", ratio: [1, 1], spin: [700, 1600] },
};

/** Which machines have a part. */
export function machinesWith(component: Component): MachineProfileId[] {
  return [...FRONT_LOADERS, ...TOP_LOADERS]
    .filter((row) => component === "normal" || row.components.includes(component))
    .map((row) => row.id as MachineProfileId);
}

function drawRace(dice: Dice, balls: readonly number[]): Race {
  const count = dice.one(balls);
  // Ball over pitch diameter; a larger set of balls leaves less room for each.
  const share = Math.min(0.29, (dice.between(0.94, 1.03) * 1.87) / count);
  return {
    outer: (count / 2) * (1 - share),
    inner: (count / 2) * (1 + share),
    cage: (1 - share) / 2,
  };
}

function drawMotor(dice: Dice, motor: MotorKind): { poles: number; slots: number; bars: number } {
  if (motor === "direct") {
    const pairs = [36, 48, 36, 42, 36, 24, 27, 24, 36, 30, 27, 36, 24, 32, 42, 56];
    const at = 2 * dice.whole(0, pairs.length / 2 - 1);
    return { slots: pairs[at]!, poles: pairs[at + 1]!, bars: 0 };
  }
  if (motor === "magnet-belt") {
    const poles = dice.one([4, 6, 8, 10]);
    return { poles, slots: poles === 4 ? 6 : dice.one([9, 12]), bars: 0 };
  }
  if (motor === "universal") {
    const slots = dice.whole(10, 13);
    return { poles: 2, slots, bars: slots * dice.one([2, 2, 3]) };
  }
  return { poles: motor === "mains" ? 4 : 2, slots: 24, bars: dice.whole(17, 44) };
}

function drawGears(dice: Dice, id: MachineProfileId): { mesh: number; carrier: number } {
  if (id === "top-load-coupled" || id === "top-load-belt-reversing") {
    // An old case: a small pinion on the input drives one large wheel.
    const pinion = dice.whole(7, 16);
    return { mesh: pinion, carrier: pinion / dice.whole(38, 70) };
  }
  const sun = dice.whole(11, 21);
  const ring = Math.round(sun * dice.between(3.7, 4.4));
  const reduction = 1 + ring / sun;
  return { mesh: ring / reduction, carrier: 1 / reduction };
}

export function drawMachine(dice: Dice, id: MachineProfileId): Machine {
  const { motor, ratio, spin } = ROWS[id];
  const front = id.startsWith("front");
  const gears = drawGears(dice, id);
  const old = id === "top-load-coupled" || id === "top-load-belt-reversing";
  const belted = id.includes("belt");
  return {
    id,
    front,
    motor,
    lineHz: dice.chance(front ? 0.7 : 0.25) ? 50 : 60,
    ratio: dice.between(ratio[0], ratio[1]),
    beltPerDrum: !belted ? null : front ? dice.between(0.65, 0.76) : dice.between(0.46, 0.55),
    drumRace: drawRace(dice, front ? [7, 8, 8, 9, 9, 9] : [9, 9, 10, 11]),
    motorRace: drawRace(dice, [7, 7, 8, 8]),
    ...drawMotor(dice, motor),
    meshPerInput: gears.mesh,
    carrierPerInput: gears.carrier,
    vanes: dice.whole(4, 8),
    linePump: dice.chance(0.8),
    pumpOnMotor: old,
    carrierHz: dice.between(7500, 19_500),
    topSpinRpm: dice.between(spin[0], spin[1]),
    criticalRpm: front ? dice.ratio(110, 330) : dice.ratio(70, 230),
    ageYears: Math.round(old ? dice.between(12, 35) : dice.between(0, 16)),
  };
}
