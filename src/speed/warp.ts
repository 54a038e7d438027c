/**
 * Taps that resample a stretch whose frequencies all change by the same share per second so that they
 * stand still: the fan-chirp transform of Weruaga and Képesi, Signal Processing 87 (2007) 1504-1522.
 *
 * With τ = t + α t² / 2 a line f (1 + α t) becomes the constant f. The window is folded into the taps.
 */
export interface WarpTaps {
  /** First of four neighbouring samples, relative to the middle of the stretch; shape [length]. */
  readonly first: Int32Array;
  /** Cubic (Catmull-Rom) weights times the window; shape [4 length]. */
  readonly weights: Float64Array;
}

/** @param chirp relative change of speed α, 1/s; |α| * length / rateHz must stay below 1 */
export function warpTaps(chirp: number, rateHz: number, window: Float64Array): WarpTaps {
  const length = window.length;
  const first = new Int32Array(length);
  const weights = new Float64Array(4 * length);
  for (let j = 0; j < length; j++) {
    const tau = (j - length / 2) / rateHz;
    const t = chirp === 0 ? tau : (Math.sqrt(1 + 2 * chirp * tau) - 1) / chirp;
    const position = t * rateHz;
    const i = Math.floor(position);
    const x = position - i;
    const w = window[j]!;
    first[j] = i - 1;
    weights[4 * j] = w * 0.5 * (-x + 2 * x * x - x * x * x);
    weights[4 * j + 1] = w * 0.5 * (2 - 5 * x * x + 3 * x * x * x);
    weights[4 * j + 2] = w * 0.5 * (x + 4 * x * x - 3 * x * x * x);
    weights[4 * j + 3] = w * 0.5 * (x * x * x - x * x);
  }
  return { first, weights };
}

/** Writes the warped, windowed stretch around `centre` to the head of `out`; outside counts as 0. */
export function applyWarp(
  samples: Float64Array,
  centre: number,
  taps: WarpTaps,
  out: Float64Array,
): void {
  const { first, weights } = taps;
  const n = samples.length;
  for (let j = 0; j < first.length; j++) {
    const i = centre + first[j]!;
    const w = 4 * j;
    out[j] =
      i >= 0 && i + 3 < n
        ? weights[w]! * samples[i]! +
          weights[w + 1]! * samples[i + 1]! +
          weights[w + 2]! * samples[i + 2]! +
          weights[w + 3]! * samples[i + 3]!
        : 0;
  }
}
