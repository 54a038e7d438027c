import { greatestCommonDivisor, leastCommonMultiple } from "./whole-numbers.js";

/** Orders of a permanent-magnet motor, in events per turn of its rotor. */
export interface MagnetMotorOrders {
  /** Electrical periods per turn: the number of pole pairs p. */
  readonly electrical: number;
  /** Radial pull on a stator tooth, twice the electrical rate: 2p. */
  readonly radialForce: number;
  /** Torque ripple of the six-step or sinusoidal current: 6p (and its multiples). */
  readonly torqueRipple: number;
  /** Cogging of magnets against slots, there without current too: lcm(S, 2p). */
  readonly cogging: number;
  /** Order in space of the lowest force wave: gcd(S, 2p); small means a noisy stator. */
  readonly lowestForceMode: number;
}

/**
 * Orders of a motor with `slots` stator slots and `poles` magnet poles (2p, even).
 *
 * Multiply by the rotor's rate in Hz for frequencies. Source: textbook fractional-slot theory,
 * cogging order = lcm(slots, poles).
 */
export function magnetMotorOrders(slots: number, poles: number): MagnetMotorOrders {
  const polePairs = poles / 2;
  return {
    electrical: polePairs,
    radialForce: poles,
    torqueRipple: 6 * polePairs,
    cogging: leastCommonMultiple(slots, poles),
    lowestForceMode: greatestCommonDivisor(slots, poles),
  };
}
