import type { Character, Component, Phase } from "../../src/machine/words.js";
import type { Layer } from "./canvas.js";
import * as drive from "./faults-drive.js";
import * as rolling from "./faults-rolling.js";
import * as shaking from "./faults-shaking.js";
import * as water from "./faults-water-and-contents.js";
import type { Need, Scene } from "./scene.js";

/**
 * Each way a part fails: how common, in which phases it is heard and how likely, what it needs of the course.
 * Weights: square roots, roughly, of expert odds among noise complaints; phases: expert guesses. All from memory.
 */
export interface Fault {
  readonly component: Component;
  readonly weight: number;
  readonly character: Character;
  readonly heard: Readonly<Partial<Record<Phase, number>>>;
  readonly need: Need;
  readonly make: (scene: Scene) => Layer;
}

const row = (
  component: Component,
  weight: number,
  character: Character,
  [wash, drain, spin, coast, hand]: readonly [number, number, number, number, number],
  make: (scene: Scene) => Layer,
  need: Need = "any",
): Fault => ({
  component,
  weight,
  character,
  heard: { wash, drain, spin, coast, "hand-spin": hand },
  need,
  make,
});

export const FAULTS: readonly Fault[] = [
  row("drum-bearing", 2.6, "whirring", [0, 0, 0.9, 0.8, 0.2], rolling.drumBearingEarly, "fast"),
  row("drum-bearing", 3.2, "grinding", [0.5, 0, 0.95, 0.95, 0.9], rolling.drumBearingLate),
  row("drum-spider", 1.8, "thumping", [0.7, 0, 0.9, 0.6, 0.7], shaking.drumSpider),
  row("hub-nut", 1.4, "thumping", [0.7, 0, 0.6, 0.4, 0.7], shaking.hubNut, "start"),
  row("drive-belt", 1.7, "squealing", [0.3, 0, 0.85, 0, 0.1], drive.beltSlip, "start"),
  row("drive-belt", 1.5, "rattling", [0.6, 0, 0.8, 0.8, 0.4], drive.beltDamage),
  row("motor-pulley", 1.2, "rattling", [0.6, 0, 0.8, 0.7, 0.1], drive.motorPulley),
  row("drum-pulley", 1.2, "thumping", [0.6, 0, 0.8, 0.7, 0.6], drive.drumPulley),
  row("motor-bearing", 1.6, "whirring", [0.5, 0, 0.95, 0.9, 0.2], rolling.motorBearing),
  row("motor-brushes", 1.7, "rattling", [0.8, 0, 0.8, 0, 0], rolling.motorBrushes),
  row("clutch-splines", 1.9, "grinding", [0.3, 0, 0.8, 0, 0.15], drive.clutchSplines, "start"),
  row("shift-actuator", 1.6, "rattling", [0.3, 0.2, 0.6, 0, 0], drive.shiftActuator, "start"),
  row("gear-case", 2.2, "grinding", [0.95, 0, 0, 0, 0], drive.gearCase),
  row("agitator-dogs", 1.9, "rattling", [0.95, 0, 0, 0, 0.2], drive.agitatorDogs),
  row("motor-coupling", 1.7, "rattling", [0.9, 0.5, 0.8, 0, 0], drive.motorCoupling),
  row("drain-pump", 2.8, "rattling", [0, 0.95, 0.3, 0, 0], water.pumpDebris),
  row("drain-pump", 1.8, "humming", [0, 0.95, 0.25, 0, 0], water.pumpBearing),
  row("drain-pump", 1.5, "rattling", [0, 0.9, 0.15, 0, 0], water.pumpAir),
  row("suspension", 2.7, "thumping", [0.15, 0, 0.9, 0.6, 0.15], shaking.suspension, "critical"),
  row("counterweight", 1.3, "thumping", [0.15, 0, 0.8, 0.5, 0.2], shaking.counterweight),
  row("unbalanced-load", 2.8, "thumping", [0, 0, 0.9, 0.4, 0], shaking.unbalancedLoad, "critical"),
  row("levelling", 2.1, "thumping", [0.05, 0, 0.8, 0.35, 0], shaking.levelling),
  row("shipping-bolts", 1.2, "thumping", [0.2, 0, 0.95, 0.6, 0], shaking.shippingBolts),
  row("foreign-object", 2.3, "rattling", [0.8, 0, 0.7, 0.5, 0.7], water.foreignObject),
  row("loose-panel", 1.8, "rattling", [0.08, 0.2, 0.7, 0.5, 0], water.loosePanel),
  row("balance-ring", 1.2, "thumping", [0, 0, 0.8, 0.6, 0.2], shaking.balanceRing, "critical"),
  row("rotor-stator", 1.8, "grinding", [0.7, 0, 0.8, 0.8, 0.7], rolling.rotorStator),
  row("door-boot", 1.4, "squealing", [0.6, 0, 0.2, 0.3, 0.4], water.doorBoot, "critical"),
  {
    ...row("inlet-valve", 1.7, "humming", [0.08, 0, 0, 0, 0], water.inletValve),
    heard: { fill: 0.95, wash: 0.08 },
  },
  {
    ...row("controls", 1.2, "rattling", [0.4, 0.3, 0.4, 0, 0], water.controls),
    heard: { fill: 0.3, wash: 0.4, drain: 0.3, spin: 0.4 },
  },
  row("drum-lifter", 1.2, "rattling", [0.9, 0, 0, 0, 0.7], water.drumLifter),
  row("spin-brake", 1.2, "squealing", [0.08, 0, 0.6, 0.6, 0], drive.spinBrake, "run-down"),
  row("recirculation-pump", 1.2, "humming", [0.9, 0.08, 0, 0, 0], water.recirculationPump),
];
