import { rpmToHz, type Hertz, type Rpm } from "../foundation/units.js";

/** Rates of a brushed motor. */
export interface BrushMotorRates {
  /** Bars of the commutator past a brush. */
  readonly bars: Hertz;
  /** Armature slots past a pole. */
  readonly slots: Hertz;
}

/** Bar and slot passage: count times running speed. */
export const brushMotorRates = (
  motorRpm: Rpm,
  barCount: number,
  slotCount: number,
): BrushMotorRates => ({
  bars: barCount * rpmToHz(motorRpm),
  slots: slotCount * rpmToHz(motorRpm),
});
