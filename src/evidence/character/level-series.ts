import type { BandEnvelope } from "../../signal/band-envelope.js";

/** An evenly sampled series with its rate. */
export interface Series {
  readonly values: Float64Array;
  readonly rateHz: number;
}

/** Means of neighbouring samples, so that the rate comes close to but not below `rateHz`. */
export function thinned(envelope: BandEnvelope, rateHz: number): Series {
  const step = Math.max(1, Math.floor(envelope.sampleRateHz / rateHz));
  const values = new Float64Array(Math.floor(envelope.power.length / step));
  for (let i = 0; i < values.length; i++) {
    let sum = 0;
    for (let j = i * step; j < (i + 1) * step; j++) sum += envelope.power[j]!;
    values[i] = sum / step;
  }
  return { values, rateHz: envelope.sampleRateHz / step };
}

/** Means of two neighbours: half the rate. */
export function halved({ values, rateHz }: Series): Series {
  const out = new Float64Array(values.length >> 1);
  for (let i = 0; i < out.length; i++) out[i] = 0.5 * (values[2 * i]! + values[2 * i + 1]!);
  return { values: out, rateHz: rateHz / 2 };
}

/** Moving mean over ±halfWidth samples, cut off at the ends. Shape as the input. */
export function movingMean(values: Float64Array, halfWidth: number): Float64Array {
  const n = values.length;
  const total = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) total[i + 1] = total[i]! + values[i]!;
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const low = Math.max(0, i - halfWidth);
    const high = Math.min(n, i + halfWidth + 1);
    out[i] = (total[high]! - total[low]!) / (high - low);
  }
  return out;
}

/** The series over its own slow course (two moving means of `seconds`), so that its mean is about 1. */
export function withoutSlowGain(series: Series, seconds: number): Series {
  const half = Math.max(1, Math.round((seconds * series.rateHz) / 2));
  const slow = movingMean(movingMean(series.values, half), half);
  const values = series.values.map((value, i) => value / (slow[i]! + 1e-30));
  return { values, rateHz: series.rateHz };
}
