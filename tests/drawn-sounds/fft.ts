import FFT from "fft.js";

export interface Plan {
  readonly size: number;
  readonly engine: FFT;
  readonly out: Float64Array;
}

const plans = new Map<number, Plan>();

/** A transform of a given length, kept: many clips use the same few. */
export function planOf(size: number): Plan {
  let plan = plans.get(size);
  if (!plan) {
    const engine = new FFT(size);
    plan = { size, engine, out: new Float64Array(2 * size) };
    plans.set(size, plan);
  }
  return plan;
}
