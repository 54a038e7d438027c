import { fftPlan, nextPowerOfTwo } from "../../signal/fft-plan.js";
import type { BandEnvelope } from "../../signal/band-envelope.js";

/** Logarithm of a band's envelope: what modulates the band, whatever its loudness. */
export interface LogEnvelope {
  /** Shape [n], nepers of power, zero mean; zero where the clip is not usable. */
  readonly values: Float64Array;
  readonly sampleRateHz: number;
}

/** Adds to the envelope before the logarithm, as a share of its mean: silence must not dominate. */
const FLOOR_SHARE = 1e-3;

function averageGroups(power: Float64Array, group: number): Float64Array {
  const out = new Float64Array(Math.floor(power.length / group));
  for (let i = 0; i < out.length; i++) {
    let sum = 0;
    for (let j = i * group; j < (i + 1) * group; j++) sum += power[j]!;
    out[i] = sum / group;
  }
  return out;
}

function usableAtRate(mask: Uint8Array, hopSeconds: number, n: number, rateHz: number): Uint8Array {
  const out = new Uint8Array(n);
  for (let i = 0; i < n; i++) {
    out[i] = mask[Math.min(mask.length - 1, Math.floor(i / rateHz / hopSeconds))]!;
  }
  return out;
}

/** Takes off the mean of the usable neighbours within ±half a span, so that slow drifts leave no steps. */
function levelOut(values: Float64Array, usable: Uint8Array, half: number): void {
  const n = values.length;
  const sums = new Float64Array(n + 1);
  const counts = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) {
    sums[i + 1] = sums[i]! + (usable[i] === 1 ? values[i]! : 0);
    counts[i + 1] = counts[i]! + usable[i]!;
  }
  for (let i = 0; i < n; i++) {
    const low = Math.max(0, i - half);
    const high = Math.min(n, i + half + 1);
    const count = counts[high]! - counts[low]!;
    values[i] = usable[i] === 1 ? values[i]! - (sums[high]! - sums[low]!) / count : 0;
  }
}

/**
 * Log envelope of a band at about `targetRateHz`: ln(mean of the squared envelope over a sample period
 * / its mean over the clip + 0.001), drift of more than `driftSeconds` taken off.
 *
 * The logarithm keeps single claps and knocks from outweighing a weak regular modulation. Source:
 * Borghesani and Antoni, Mech. Syst. Signal Process. 90 (2017) (log-envelope spectrum; from memory).
 */
export function logEnvelope(
  band: BandEnvelope,
  mask: { readonly usable: Uint8Array; readonly hopSeconds: number },
  targetRateHz: number,
  driftSeconds: number,
): LogEnvelope {
  const group = Math.max(1, Math.round(band.sampleRateHz / targetRateHz));
  const values = averageGroups(band.power, group);
  const sampleRateHz = band.sampleRateHz / group;
  const usable = usableAtRate(mask.usable, mask.hopSeconds, values.length, sampleRateHz);
  let sum = 0;
  let count = 0;
  for (let i = 0; i < values.length; i++) {
    if (usable[i] === 0) continue;
    sum += values[i]!;
    count++;
  }
  const scale = sum > 0 ? count / sum : 0;
  for (let i = 0; i < values.length; i++) values[i] = Math.log(values[i]! * scale + FLOOR_SHARE);
  levelOut(values, usable, Math.max(1, Math.round((driftSeconds * sampleRateHz) / 2)));
  return { values, sampleRateHz };
}

/** A stretch of the frequency axis that is emptied. */
export interface Notch {
  readonly hz: number;
  readonly halfHz: number;
}

/**
 * Empties narrow stretches of two signals' spectra at once (one rides as the imaginary part; the notches
 * are symmetric, so the two stay apart). Both signals have the same length and rate.
 */
export function notchPair(
  first: LogEnvelope,
  second: LogEnvelope,
  notches: readonly Notch[],
): [LogEnvelope, LogEnvelope] {
  if (notches.length === 0) return [first, second];
  const n = first.values.length;
  const size = nextPowerOfTwo(n);
  const joined = new Float64Array(2 * size);
  for (let i = 0; i < n; i++) {
    joined[2 * i] = first.values[i]!;
    joined[2 * i + 1] = second.values[i]!;
  }
  const bins = new Float64Array(2 * size);
  fftPlan(size).forward(joined, bins);
  const binHz = first.sampleRateHz / size;
  for (const { hz, halfHz } of notches) {
    const low = Math.max(1, Math.round((hz - halfHz) / binHz));
    const high = Math.min(size / 2, Math.round((hz + halfHz) / binHz));
    for (let k = low; k <= high; k++) {
      bins[2 * k] = 0;
      bins[2 * k + 1] = 0;
      bins[2 * (size - k)] = 0;
      bins[2 * (size - k) + 1] = 0;
    }
  }
  fftPlan(size).inverse(bins, joined);
  const part = (offset: number): LogEnvelope => {
    const values = new Float64Array(n);
    for (let i = 0; i < n; i++) values[i] = joined[2 * i + offset]!;
    return { values, sampleRateHz: first.sampleRateHz };
  };
  return [part(0), part(1)];
}
