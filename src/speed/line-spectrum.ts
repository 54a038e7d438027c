import { median, robustDeviation } from "../foundation/statistics.js";

/** A spectrum in deviations of its own background: about normal(0, 1) where there is no line. */
export interface LineSpectrum {
  readonly z: Float64Array;
  /** One deviation in nepers of power. */
  readonly spread: number;
  /** Hz per bin, as if the drum had kept its reference speed. */
  readonly binHz: number;
}

/** Deviations from the median over the bins from `from` on; one deviation is `leastSpread` nepers or more. */
export function inDeviations(
  values: Float64Array,
  from: number,
  binHz: number,
  leastSpread: number,
): LineSpectrum {
  const part = values.subarray(Math.min(from, values.length - 1));
  const centre = median(part);
  const spread = Math.max(leastSpread, robustDeviation(part));
  const z = new Float64Array(values.length);
  for (let k = 0; k < z.length; k++) z[k] = (values[k]! - centre) / spread;
  return { z, spread, binHz };
}
