import type { Scaling } from "../evidence.js";
import type { AxisSpectrum } from "./axis-spectrum.js";
import type { Shafts } from "./shafts.js";
import { speedSpan } from "./shafts.js";

/** What a tone's scaling is judged from. */
export interface ScalingViews {
  readonly hertz: AxisSpectrum;
  readonly orders: AxisSpectrum | null;
  readonly shafts: Shafts | null;
  readonly lineHz: number | null;
}

// The two spectra are compared where they hold the tone: ln of the ratio of heights (methods of order
// tracking; 0.7 is a factor of two).
const CLEAR_LOG_RATIO = 0.7;
// A tone must smear over this many bins of the one spectrum before it can be said to belong to the other.
const LEAST_SMEAR_BINS = 6;
const SPAN_OVER_ERROR = 10;
// A tone is narrower than this many main lobes.
const TONE_LOBES = 3;
const HIGHEST_MAINS_MULTIPLE = 40;

const meanRatio = ({ excess, blocks }: AxisSpectrum, k: number): number =>
  1 + (excess[k]! - 1) / Math.sqrt(blocks);

/** Largest mean height over the background within ±slack of a place. */
export function heightNear(spectrum: AxisSpectrum, place: number, slack: number): number {
  const { bin, resolution, excess } = spectrum;
  const reach = Math.max(1, Math.round((resolution / 2 + slack) / bin));
  const middle = Math.round(place / bin);
  let best = 1;
  for (let k = Math.max(1, middle - reach); k <= middle + reach && k < excess.length; k++) {
    best = Math.max(best, meanRatio(spectrum, k));
  }
  return best;
}

/** Whether a frequency lies on a multiple of the mains, within the grid's wander and half a bin. */
export function isOnMains(hz: number, lineHz: number | null, binHz: number): boolean {
  if (lineHz === null) return false;
  const multiple = Math.round(hz / lineHz);
  const off = Math.abs(hz - multiple * lineHz);
  return multiple >= 1 && multiple <= HIGHEST_MAINS_MULTIPLE && off <= binHz / 2 + 0.001 * hz;
}

/** Width of a peak at half its height, in Hz. */
export function halfWidthHz({ power, bin }: AxisSpectrum, hz: number): number {
  let top = Math.round(hz / bin);
  for (const k of [top - 1, top + 1]) if ((power[k] ?? 0) > power[top]!) top = k;
  const half = power[top]! / 2;
  let low = top;
  let high = top;
  while (low > 1 && power[low - 1]! > half) low--;
  while (high + 1 < power.length && power[high + 1]! > half) high++;
  return (high - low + 1) * bin;
}

/**
 * How a tone at `hz` (at the clip's typical speed) moves with the drum.
 *
 * Λ = ln(height at its order in the order spectrum / height at its frequency in the time spectrum), both
 * averaged over blocks of about two seconds. Λ > 0.7: speed-locked; Λ < -0.7: fixed, and line-locked when
 * on a multiple of the mains. The speed must move the tone by at least six bins and by ten times the
 * track's error; else only the mains comb can be told, and the rest is undetermined. A fixed peak much
 * wider than a tone is a resonance.
 */
export function scalingOf(hz: number, views: ScalingViews): Scaling {
  const { hertz, orders, shafts, lineHz } = views;
  const onMains = isOnMains(hz, lineHz, hertz.bin);
  const atRest: Scaling = onMains ? "line-locked" : "undetermined";
  if (shafts === null || orders === null) return atRest;
  const span = speedSpan(shafts);
  const smearBins = (span * hz) / hertz.bin;
  if (smearBins < LEAST_SMEAR_BINS || span < SPAN_OVER_ERROR * shafts.error) return atRest;
  const order = hz / shafts.typicalHz;
  const inOrders = heightNear(orders, order, order * shafts.error);
  const inHertz = heightNear(hertz, hz, 0);
  const logRatio = Math.log(inOrders / inHertz);
  if (logRatio > CLEAR_LOG_RATIO) return "speed-locked";
  if (logRatio > -CLEAR_LOG_RATIO) return atRest;
  if (halfWidthHz(hertz, hz) > TONE_LOBES * hertz.resolution) return "resonance";
  return onMains ? "line-locked" : "fixed";
}
