import type { Hertz } from "../foundation/units.js";

/** Rates of an agitator that goes to and fro. */
export interface StrokeRates {
  /** Strokes one way or the other, and as many reversals. */
  readonly strokes: Hertz;
  /** Full to-and-fro cycles: what a one-way ratchet clicks at. */
  readonly cycles: Hertz;
}

/** Stroke and cycle rates from strokes (one way) per minute. */
export const strokeRates = (strokesPerMinute: number): StrokeRates => ({
  strokes: strokesPerMinute / 60,
  cycles: strokesPerMinute / 120,
});
