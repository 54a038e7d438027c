import type { Hertz } from "../foundation/units.js";
import { greatestCommonDivisor, leastCommonMultiple } from "./whole-numbers.js";

/** Teeth in mesh: teeth times the rate of the shaft that carries them. */
export const gearMeshHz = (teeth: number, shaftHz: Hertz): Hertz => teeth * shaftHz;

/** Slow rates of a pair of gears. */
export interface PairRates {
  /** Number of ways in which the pair can be assembled: gcd of the teeth; 1 is a hunting-tooth pair. */
  readonly assemblyPhases: number;
  /** Rate at which the same assembly phase comes round: mesh / gcd. */
  readonly assemblyPassHz: Hertz;
  /** Rate at which the same two teeth meet: mesh / lcm. */
  readonly huntingToothHz: Hertz;
}

/** Slow rates of a gear pair from its teeth and mesh rate. Source: Randall (2011), chapter 2. */
export function pairRates(pinionTeeth: number, wheelTeeth: number, meshHz: Hertz): PairRates {
  const assemblyPhases = greatestCommonDivisor(pinionTeeth, wheelTeeth);
  return {
    assemblyPhases,
    assemblyPassHz: meshHz / assemblyPhases,
    huntingToothHz: meshHz / leastCommonMultiple(pinionTeeth, wheelTeeth),
  };
}
