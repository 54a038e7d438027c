import type { Hertz } from "../foundation/units.js";

/**
 * Lowest flapping frequency of a free belt span, as a string: (1 / 2l) sqrt(T / m).
 *
 * `spanMm` free length, `tensionNewton` strand tension, `massKgPerM` mass per metre of the whole belt.
 * Within 15 % for short stiff belts. Source: string formula of belt makers' manuals (ISO 9982 belts).
 */
export const beltSpanHz = (spanMm: number, tensionNewton: number, massKgPerM: number): Hertz =>
  Math.sqrt(tensionNewton / massKgPerM) / (2 * (spanMm / 1000));
