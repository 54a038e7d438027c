import { fftPlan } from "../../signal/fft-plan.js";

/** Inverse modified discrete cosine transforms of one size. */
export interface Imdct {
  /**
   * y[n] = Σ x[k] cos(2π/N (n + 1/2 + N/4)(k + 1/2)), n = 0..N-1, k = 0..N/2-1; not scaled.
   *
   * @param spectrum shape [N/2]
   * @param out shape [N]
   */
  inverse(spectrum: Float64Array, out: Float64Array): void;
}

const made = new Map<number, Imdct>();

/**
 * The transform for an output length N, a power of two of at least 16, made once.
 *
 * By a complex FFT of N/4 points between two twiddles: an N-point inverse MDCT is an (N/2)-point DCT-IV
 * unfolded, and a DCT-IV of M points is a complex transform of M/2.
 */
export function imdct(length: number): Imdct {
  const known = made.get(length);
  if (known) return known;
  const transform = createImdct(length);
  made.set(length, transform);
  return transform;
}

function createImdct(length: number): Imdct {
  const half = length / 2;
  const quarter = length / 4;
  const plan = fftPlan(quarter);
  const cos = new Float64Array(quarter);
  const sin = new Float64Array(quarter);
  for (let k = 0; k < quarter; k++) {
    cos[k] = Math.cos((Math.PI / half) * (k + 0.125));
    sin[k] = Math.sin((Math.PI / half) * (k + 0.125));
  }
  const packed = new Float64Array(half);
  const turned = new Float64Array(half);
  const dct = new Float64Array(half);
  return {
    inverse: (spectrum, out) => {
      // DCT-IV of `half` points: pairs (x[2k], x[M-1-2k]) as one complex number each.
      for (let k = 0; k < quarter; k++) {
        const re = spectrum[2 * k]!;
        const im = spectrum[half - 1 - 2 * k]!;
        packed[2 * k] = re * cos[k]! + im * sin[k]!;
        packed[2 * k + 1] = im * cos[k]! - re * sin[k]!;
      }
      plan.forward(packed, turned);
      for (let k = 0; k < quarter; k++) {
        const re = turned[2 * k]!;
        const im = turned[2 * k + 1]!;
        dct[2 * k] = re * cos[k]! + im * sin[k]!;
        dct[half - 1 - 2 * k] = re * sin[k]! - im * cos[k]!;
      }
      unfold(dct, out, half);
    },
  };
}

// The DCT-IV of M points continued to 2M samples from index M/2 on: it is odd about M and even about 0.
function unfold(dct: Float64Array, out: Float64Array, half: number): void {
  const quarter = half / 2;
  for (let n = 0; n < quarter; n++) {
    out[n] = dct[n + quarter]!;
    out[half - 1 - n] = -dct[n + quarter]!;
    out[half + n] = -dct[quarter - 1 - n]!;
    out[2 * half - 1 - n] = -dct[quarter - 1 - n]!;
  }
}
