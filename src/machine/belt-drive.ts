import { rpmToHz, type Hertz, type Rpm } from "../foundation/units.js";

/** Turns of a belt: pi d f / L, with the pulley's effective diameter and the belt's length in one unit. */
export const beltHz = (pulleyRpm: Rpm, pulleyDiameter: number, beltLength: number): Hertz =>
  (Math.PI * pulleyDiameter * rpmToHz(pulleyRpm)) / beltLength;

/** Belt turns per turn of that pulley: pi D / L; below 1 whenever the belt fits round the pulley. */
export const beltTurnsPerPulleyTurn = (pulleyDiameter: number, beltLength: number): number =>
  (Math.PI * pulleyDiameter) / beltLength;

/** Speed of the belt in m/s from a pulley's diameter in mm. */
export const beltSpeedMPerS = (pulleyRpm: Rpm, pulleyMm: number): number =>
  (Math.PI * pulleyMm * rpmToHz(pulleyRpm)) / 1000;

/** Motor turns per drum turn: (D / d) / (1 - s), with belt slip s as a share. */
export const pulleyRatio = (motorPulley: number, drumPulley: number, slip = 0): number =>
  drumPulley / motorPulley / (1 - slip);

/** Drum speed behind a belt: n d / D (1 - s). */
export const drivenRpm = (motorRpm: Rpm, motorPulley: number, drumPulley: number, slip = 0): Rpm =>
  motorRpm / pulleyRatio(motorPulley, drumPulley, slip);

/**
 * Belt slip from the ratio heard: s = 1 - R_pulleys / R_heard.
 * A sound belt creeps 1-2 %; a ratio that rises by more while the drum is driven is slip.
 */
export const beltSlip = (pulleysRatio: number, heardRatio: number): number =>
  1 - pulleysRatio / heardRatio;
