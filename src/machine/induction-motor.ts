import { rpmToHz, type Hertz, type Rpm } from "../foundation/units.js";

/** Speed of the turning field: n_s = 120 f / P, with P magnetic poles. Source: IEC 60034-1 practice. */
export const synchronousRpm = (supplyHz: Hertz, poles: number): Rpm => (120 * supplyHz) / poles;

/** Share by which the rotor lags the field: s = (n_s - n) / n_s; 0.01-0.08 under load. */
export const inductionSlip = (rotorRpm: Rpm, supplyHz: Hertz, poles: number): number =>
  1 - rotorRpm / synchronousRpm(supplyHz, poles);

/** Rate at which the rotor slips past poles: P (n_s - n) / 60 = 2 s f; modulates hum and noise. */
export const polePassHz = (rotorRpm: Rpm, supplyHz: Hertz, poles: number): Hertz =>
  poles * rpmToHz(synchronousRpm(supplyHz, poles) - rotorRpm);

/**
 * Rotor bar (slot) pass and its companions: bars f_m + 2 k f_supply for k = -order..order, ascending.
 * Source: textbook; the carrier itself is bars x running speed, its sidebands at twice the supply.
 */
export function rotorSlotHz(
  bars: number,
  rotorRpm: Rpm,
  supplyHz: Hertz,
  order = 1,
): readonly Hertz[] {
  const centre = bars * rpmToHz(rotorRpm);
  return Array.from({ length: 2 * order + 1 }, (_, i) => centre + 2 * (i - order) * supplyHz);
}

/** Supply frequency that an inverter must give for a rotor speed and slip: f_e = p f_m / (1 - s). */
export const inverterSupplyHz = (rotorRpm: Rpm, poles: number, slip: number): Hertz =>
  ((poles / 2) * rpmToHz(rotorRpm)) / (1 - slip);
