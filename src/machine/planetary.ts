import type { Hertz } from "../foundation/units.js";

/** A simple planetary set. */
export interface PlanetaryTeeth {
  readonly sun: number;
  readonly planet: number;
  readonly ring: number;
  /** Number of planets. */
  readonly planets: number;
}

/** Signed rates of the members in Hz; `planet` is absolute, `planetOnCarrier` relative to its arm. */
export interface PlanetaryMotion {
  readonly sun: Hertz;
  readonly ring: Hertz;
  readonly carrier: Hertz;
  readonly planet: Hertz;
  readonly planetOnCarrier: Hertz;
}

/** Sun turns per carrier turn with the ring held: 1 + Zr / Zs. */
export const ringHeldReduction = (teeth: PlanetaryTeeth): number => 1 + teeth.ring / teeth.sun;

/**
 * Motion of all members from any sun and ring rate (signed, Hz).
 *
 * Willis: Zs ws + Zr wr = (Zs + Zr) wc, and Zr (wr - wc) = Zp (wp - wc). A drifting basket is a ring
 * that turns; the locked set of the spin is sun = ring, in which nothing meshes.
 * Source: Randall, Vibration-based Condition Monitoring (2011), section 2.2.
 */
export function planetaryMotion(
  teeth: PlanetaryTeeth,
  sunHz: Hertz,
  ringHz: Hertz = 0,
): PlanetaryMotion {
  const carrier = (teeth.sun * sunHz + teeth.ring * ringHz) / (teeth.sun + teeth.ring);
  const planetOnCarrier = (teeth.ring * (ringHz - carrier)) / teeth.planet;
  return {
    sun: sunHz,
    ring: ringHz,
    carrier,
    planet: carrier + planetOnCarrier,
    planetOnCarrier: Math.abs(planetOnCarrier),
  };
}

/** Rates that a planetary set makes, Hz. */
export interface PlanetaryRates {
  /** Teeth in mesh: Zs |fs - fc| = Zr |fr - fc|. */
  readonly mesh: Hertz;
  /** Planets passing a fixed spot of the ring: N |fc - fr|. */
  readonly planetPass: Hertz;
  /** A damaged sun tooth: N |fs - fc|. */
  readonly sunFault: Hertz;
  /** A damaged planet tooth on one flank; twice this when it meets sun and ring alike. */
  readonly planetFault: Hertz;
  /** A damaged ring tooth: N |fc - fr|. */
  readonly ringFault: Hertz;
}

/**
 * Mesh and fault rates from the members' motion.
 * Source: Randall (2011) section 2.2; McFadden and Smith, Proc. IMechE C 199 (1985).
 */
export function planetaryRates(teeth: PlanetaryTeeth, motion: PlanetaryMotion): PlanetaryRates {
  const sunOnCarrier = Math.abs(motion.sun - motion.carrier);
  const carrierOnRing = Math.abs(motion.carrier - motion.ring);
  return {
    mesh: teeth.sun * sunOnCarrier,
    planetPass: teeth.planets * carrierOnRing,
    sunFault: teeth.planets * sunOnCarrier,
    planetFault: motion.planetOnCarrier,
    ringFault: teeth.planets * carrierOnRing,
  };
}

/** True when equally spaced planets can be put in: (Zs + Zr) / N is whole. */
export const canBeAssembled = (teeth: PlanetaryTeeth): boolean =>
  (teeth.sun + teeth.ring) % teeth.planets === 0;
