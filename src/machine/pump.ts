import type { Hertz } from "../foundation/units.js";

/** Rates of a two-pole synchronous drain pump. */
export interface SynchronousPumpRates {
  readonly rotation: Hertz;
  /** Torque pulsation of the single-phase motor, twice the mains. */
  readonly hum: Hertz;
  /** Vanes past the outlet; always on a mains multiple. */
  readonly vanePass: Hertz;
}

/** Rates of a two-pole pump locked to the mains: f_L, 2 f_L and vanes x f_L. */
export const synchronousPumpRates = (lineHz: Hertz, vanes: number): SynchronousPumpRates => ({
  rotation: lineHz,
  hum: 2 * lineHz,
  vanePass: vanes * lineHz,
});
