/** Adam's step, nats. */
const RATE = 0.05;
/** How far tuning may move an expert's weight, nats. */
const LIMIT = 1;

/** What tuning adds to weights: moved by Adam (Kingma and Ba 2015), kept within a limit. */
export class Deltas {
  readonly value: Float64Array;
  private readonly m: Float64Array;
  private readonly v: Float64Array;
  private t = 0;
  constructor(
    count: number,
    private readonly limit = LIMIT,
  ) {
    this.value = new Float64Array(count);
    this.m = new Float64Array(count);
    this.v = new Float64Array(count);
  }
  /** One step against the gradient, kept within the limit. */
  step(gradient: Float64Array): void {
    this.t++;
    for (let i = 0; i < gradient.length; i++) {
      this.m[i] = 0.9 * this.m[i]! + 0.1 * gradient[i]!;
      this.v[i] = 0.999 * this.v[i]! + 0.001 * gradient[i]! ** 2;
      const m = this.m[i]! / (1 - 0.9 ** this.t);
      const v = this.v[i]! / (1 - 0.999 ** this.t);
      const moved = this.value[i]! - (RATE * m) / (Math.sqrt(v) + 1e-8);
      this.value[i] = Math.min(this.limit, Math.max(-this.limit, moved));
    }
  }
}

export function softmax(scores: readonly number[]): number[] {
  const top = Math.max(...scores);
  const raised = scores.map((score) => Math.exp(score - top));
  const total = raised.reduce((a, b) => a + b, 0);
  return raised.map((value) => value / total);
}
