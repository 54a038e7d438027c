import type { Component } from "../../machine/words.js";
import type { FaultSource } from "../stage.js";
import { drumBearing, motorBearing } from "./bearing.js";
import { driveBelt, drumPulley, motorBrushes, motorPulley } from "./belt.js";
import {
  balanceRing,
  counterweight,
  drumLifter,
  drumSpider,
  foreignObject,
  hubNut,
} from "./drum.js";
import { agitatorDogs, clutchSplines, gearCase, motorCoupling, shiftActuator } from "./gears.js";
import { drainPump, recirculationPump } from "./pump.js";
import { rotorStator } from "./rotor.js";
import { controls, doorBoot, inletValve, spinBrake } from "./rubber-and-valves.js";
import { levelling, loosePanel, shippingBolts, suspension, unbalancedLoad } from "./suspension.js";

/** Parts that can be at fault. */
export type FaultyPart = Exclude<Component, "normal" | "other">;

/** The maker of each faulty part's sound. */
export const FAULT_SOURCES: Readonly<Record<FaultyPart, FaultSource>> = {
  "drum-bearing": drumBearing,
  "drum-spider": drumSpider,
  "hub-nut": hubNut,
  "drive-belt": driveBelt,
  "motor-pulley": motorPulley,
  "drum-pulley": drumPulley,
  "motor-bearing": motorBearing,
  "motor-brushes": motorBrushes,
  "clutch-splines": clutchSplines,
  "shift-actuator": shiftActuator,
  "gear-case": gearCase,
  "agitator-dogs": agitatorDogs,
  "motor-coupling": motorCoupling,
  "drain-pump": drainPump,
  suspension,
  counterweight,
  "unbalanced-load": unbalancedLoad,
  levelling,
  "shipping-bolts": shippingBolts,
  "foreign-object": foreignObject,
  "loose-panel": loosePanel,
  "balance-ring": balanceRing,
  "rotor-stator": rotorStator,
  "door-boot": doorBoot,
  "inlet-valve": inletValve,
  controls,
  "drum-lifter": drumLifter,
  "spin-brake": spinBrake,
  "recirculation-pump": recirculationPump,
};
