import { heightAt } from "./line-odds.js";
import type { LineSpectrum } from "./line-spectrum.js";

/** A fitted fundamental. */
export interface FamilyFit {
  readonly hz: number;
  /** Relative standard error. */
  readonly error: number;
}

const FINE = 0.0002;
/** A line lower than this, deviations, places nothing. */
const LEAST = 2.5;
/** A line this many standard errors off the lower ones belongs to another family. */
const STRAY = 3;

// Peak of one line near a frequency, with the error that its height allows: in noise, the curvature of
// the log-likelihood at the peak is 2 n r / w², n averaged powers, r height over noise, w half-width.
function placeLine(
  spectrum: LineSpectrum,
  hz: number,
  reach: number,
  widthHz: number,
): FamilyFit | null {
  let top = -Infinity;
  let at = hz;
  for (let s = -Math.round(reach / FINE); s <= reach / FINE; s++) {
    const height = heightAt(spectrum, hz * (1 + s * FINE));
    if (height > top) {
      top = height;
      at = hz * (1 + s * FINE);
    }
  }
  if (top < LEAST) return null;
  const freedom = 1 / spectrum.spread ** 2;
  const ratio = Math.exp(Math.min(8, top * spectrum.spread)) - 1;
  return { hz: at, error: widthHz / at / Math.sqrt(2 * freedom * Math.max(0.1, ratio)) };
}

/**
 * Fundamental of a family from its lines, lowest first; a line that the lower ones contradict is left
 * out: it belongs to something near a multiple, such as an outer race at 3.05 per turn.
 *
 * @param reach share of frequency that the fundamental may be off
 * @param widthHz half-width w of a line, ln P = c - (Δf / w)²
 */
export function fitFamily(
  spectrum: LineSpectrum,
  hz: number,
  multiples: number,
  reach: number,
  widthHz: number,
): FamilyFit {
  let fitted = hz;
  let information = 0;
  for (let k = 1; k <= multiples; k++) {
    const within =
      information > 0 ? Math.min(reach, STRAY / Math.sqrt(information) + reach / k) : reach;
    const line = placeLine(spectrum, k * fitted, within, widthHz);
    if (line === null) continue;
    const off = Math.log(line.hz / (k * fitted));
    const allowed =
      STRAY * Math.hypot(line.error, information > 0 ? 1 / Math.sqrt(information) : reach);
    if (Math.abs(off) > allowed) continue;
    const weight = 1 / line.error ** 2;
    fitted *= Math.exp((off * weight) / (weight + information));
    information += weight;
  }
  return { hz: fitted, error: information > 0 ? 1 / Math.sqrt(information) : reach };
}
