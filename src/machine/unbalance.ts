import { hzToRpm, rpmToHz, type Rpm } from "../foundation/units.js";

/** Standard gravity, m/s^2 (ISO 80000-3). */
const GRAVITY = 9.80665;

const radPerS = (drumRpm: Rpm): number => 2 * Math.PI * rpmToHz(drumRpm);

/** Speed from which laundry sticks to the drum: w^2 r = g. Radius in m. */
export const plasterRpm = (radiusM: number): Rpm =>
  hzToRpm(Math.sqrt(GRAVITY / radiusM) / (2 * Math.PI));

/** Acceleration at the drum's wall in multiples of gravity. */
export const wallAccelerationG = (drumRpm: Rpm, radiusM: number): number =>
  (radPerS(drumRpm) ** 2 * radiusM) / GRAVITY;

/** Rotating force of an out-of-balance load, N: m r w^2. */
export const unbalanceForceN = (massKg: number, radiusM: number, drumRpm: Rpm): number =>
  massKg * radiusM * radPerS(drumRpm) ** 2;
