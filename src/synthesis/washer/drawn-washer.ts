import type { Random } from "../../foundation/random.js";
import type { MachineProfileId } from "../../machine/words.js";
import { BUILDS, type Build } from "./builds.data.js";

/** A rolling bearing reduced to what its sound depends on. */
export interface DrawnBearing {
  readonly balls: number;
  /** Ball diameter over pitch diameter times cosine of the contact angle. */
  readonly gamma: number;
  /** Share by which cage and balls run off their kinematic rate (they slide). */
  readonly slide: number;
}

/** One simulated washer: every number that another machine of the same kind would have otherwise. */
export interface DrawnWasher {
  readonly machine: MachineProfileId;
  readonly build: Build;
  /** Motor turns per turn of the large pulley (or of the drum when there is no belt). */
  readonly motorToPulley: number;
  /** Turns of the large pulley per turn of the agitator in the wash. */
  readonly pulleyToAgitator: number;
  /** Drum turns per turn of the large pulley in the spin. */
  readonly drumToPulley: number;
  /** Belt turns per turn of the large pulley. */
  readonly beltToPulley: number;
  readonly creep: number;
  readonly bars: number;
  readonly poles: number;
  readonly slots: number;
  readonly inductionSlip: number;
  readonly carrierHz: number;
  readonly drumBearing: DrawnBearing;
  readonly motorBearing: DrawnBearing;
  /** Gear-mesh events per turn of the agitator's carrier (planetary) or of the motor (fixed gears). */
  readonly meshPerTurn: number;
  readonly planets: number;
  readonly lifters: number;
  readonly pump: "synchronous" | "shaded-pole" | "electronic" | "wash-motor";
  readonly vanes: number;
  readonly suspensionRpm: number;
  readonly spokes: number;
}

/** Repetition rates of a bearing's defects per turn of its shaft (inner ring turning). */
export interface BearingOrders {
  readonly outer: number;
  readonly inner: number;
  readonly ball: number;
  readonly cage: number;
}

/**
 * outer = Z(1-γ)/2, inner = Z(1+γ)/2, ball = (1-γ²)/γ (twice the ball's spin), cage = (1-γ)/2.
 * γ in `gamma` already holds the cosine of the contact angle, which here also stands for d/D in the
 * ball's rate. Source: textbook kinematics, see Randall and Antoni, MSSP 25 (2011) 485.
 */
export const bearingOrders = ({ balls, gamma }: DrawnBearing): BearingOrders => ({
  outer: (balls / 2) * (1 - gamma),
  inner: (balls / 2) * (1 + gamma),
  ball: (1 - gamma * gamma) / gamma,
  cage: (1 - gamma) / 2,
});

/** Motor turns per drum turn in the spin, belt creep aside. */
export const motorToDrum = (washer: DrawnWasher): number =>
  washer.motorToPulley / washer.drumToPulley;

const drawBearing = (random: Random): DrawnBearing => ({
  balls: random.integer(7, 11),
  gamma: random.between(0.15, 0.31),
  slide: random.between(-0.015, 0.015),
});

function drawPlanetary(random: Random): { mesh: number; reduction: number; planets: number } {
  const planets = random.pick([3, 3, 4, 4, 5]);
  const sun = random.integer(10, 24);
  const ring = Math.round(sun * random.between(2.6, 5.4));
  // Turned by the sun with the ring held: carrier turns once for 1 + ring/sun turns of the sun.
  return { mesh: ring, reduction: 1 + ring / sun, planets };
}

function drawPump(build: Build, random: Random): DrawnWasher["pump"] {
  if (build.pumpOnWashMotor && random.chance(0.8)) return "wash-motor";
  return random.pick(["synchronous", "synchronous", "synchronous", "shaded-pole", "electronic"]);
}

/** Draws a washer of a built-in kind. Ranges are wider than those in use, on purpose. */
export function drawWasher(machine: MachineProfileId, random: Random): DrawnWasher {
  const build = BUILDS.find((row) => row.machine === machine)!;
  const between = ([low, high]: readonly [number, number]) => random.between(low, high);
  const planetary = drawPlanetary(random);
  const poles = 2 * Math.round(between(build.polePairs));
  return {
    machine,
    build,
    motorToPulley: build.motorToPulley ? between(build.motorToPulley) : 1,
    pulleyToAgitator: build.gears === "planetary" ? planetary.reduction : 1,
    drumToPulley: build.gears === "fixed" && !build.belt ? 1 / random.between(2, 3.5) : 1,
    beltToPulley: build.belt ? between(build.axis === "vertical" ? [0.4, 0.64] : [0.55, 0.86]) : 0,
    creep: random.between(0.002, 0.012),
    bars: random.integer(18, 40),
    poles,
    slots: 3 * random.integer(3, 16),
    inductionSlip: random.between(0.02, 0.085),
    carrierHz: random.between(7_000, 17_500),
    drumBearing: drawBearing(random),
    motorBearing: drawBearing(random),
    meshPerTurn: build.gears === "fixed" ? random.integer(8, 22) : planetary.mesh,
    planets: planetary.planets,
    lifters: random.pick([2, 3, 3, 3, 4]),
    pump: drawPump(build, random),
    vanes: random.integer(3, 9),
    suspensionRpm: random.between(110, 320),
    spokes: random.integer(3, 8),
  };
}
