import type { Hertz } from "../foundation/units.js";

/**
 * Lines round an inverter's carrier: f_c and 2 f_c, each with companions at k times the electrical
 * rate for k up to `order`. Ascending, without repeats. Source: textbook pulse-width modulation.
 */
export function carrierLinesHz(carrierHz: Hertz, electricalHz: Hertz, order: number): Hertz[] {
  const offsets = Array.from({ length: 2 * order + 1 }, (_, i) => (i - order) * electricalHz);
  const lines = [carrierHz, 2 * carrierHz].flatMap((centre) =>
    offsets.map((offset) => centre + offset),
  );
  return [...new Set(lines)].sort((a, b) => a - b);
}
