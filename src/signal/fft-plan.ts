import FFT from "fft.js";

/** Fourier transforms of one fixed size. Complex arrays interleave real and imaginary parts. */
export interface FftPlan {
  /** Transform length in samples, a power of two. */
  readonly size: number;
  /**
   * Spectrum of a real block: X[k] = Σ x[n] e^(-2πikn/size), not scaled.
   *
   * @param block shape [size]
   * @param out shape [2 size]; bins 0..size/2 are written, the upper half is undefined
   */
  forwardReal(block: Float64Array, out: Float64Array): void;
  /** Spectrum of a complex block; shapes [2 size]. */
  forward(block: Float64Array, out: Float64Array): void;
  /** Inverse of `forward`, scaled by 1/size; shapes [2 size]. */
  inverse(spectrum: Float64Array, out: Float64Array): void;
}

const plans = new Map<number, FftPlan>();

function createPlan(size: number): FftPlan {
  const fft = new FFT(size);
  return {
    size,
    forwardReal: (block, out) => {
      fft.realTransform(out, block);
    },
    forward: (block, out) => {
      fft.transform(out, block);
    },
    inverse: (spectrum, out) => {
      fft.inverseTransform(out, spectrum);
    },
  };
}

/** The plan for a size, made once. Throws RangeError unless size is a power of two >= 2. */
export function fftPlan(size: number): FftPlan {
  const known = plans.get(size);
  if (known) return known;
  if (size < 2 || !Number.isInteger(Math.log2(size))) {
    throw new RangeError(`FFT size must be a power of two of at least 2, received ${size}.`);
  }
  const plan = createPlan(size);
  plans.set(size, plan);
  return plan;
}

/** The smallest power of two that is >= n. */
export const nextPowerOfTwo = (n: number): number => 2 ** Math.ceil(Math.log2(Math.max(2, n)));
