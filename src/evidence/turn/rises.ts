import type { BandName, ListeningContext } from "../context.js";
import { movingMean, thinned, type Series } from "../character/level-series.js";

const RISE_RATE_HZ = 400;
/** Largest rise that counts, dB, so that one loud bang does not outweigh all others. */
const LARGEST_RISE_DB = 12;

/** Rise of the level within 10-15 ms, dB, at about 400 Hz; 0 where it falls, at most 12. */
export function riseSeries(context: ListeningContext, band: BandName): Series {
  const level = thinned(context.envelope(band), RISE_RATE_HZ);
  const smooth = movingMean(level.values, 2);
  const rise = new Float64Array(smooth.length);
  for (let i = 6; i < smooth.length; i++) {
    const before = Math.min(smooth[i - 4]!, smooth[i - 6]!) + 1e-30;
    const db = 10 * Math.log10((smooth[i]! + 1e-30) / before);
    rise[i] = Math.min(LARGEST_RISE_DB, Math.max(0, db));
  }
  return { values: rise, rateHz: level.rateHz };
}
