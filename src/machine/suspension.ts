import type { Hertz } from "../foundation/units.js";

/** Standard gravity, m/s^2 (ISO 80000-3). */
const GRAVITY = 9.80665;

/** Natural rate of a mass on springs: (1 / 2 pi) sqrt(k / m), stiffness in N/m, mass in kg. */
export const naturalHz = (stiffnessNPerM: number, massKg: number): Hertz =>
  Math.sqrt(stiffnessNPerM / massKg) / (2 * Math.PI);

/** Natural rate from the sag under the hung weight: (1 / 2 pi) sqrt(g / sag); 50 mm gives 2.2 Hz. */
export const naturalHzFromSag = (sagMm: number): Hertz =>
  Math.sqrt(GRAVITY / (sagMm / 1000)) / (2 * Math.PI);

/** Swing of a tub hung on rods, as a pendulum: (1 / 2 pi) sqrt(g / l); 0.45 m gives 0.74 Hz. */
export const rodSwingHz = (rodMm: number): Hertz => naturalHzFromSag(rodMm);
