/**
 * Mean over octaves of modulation power over its background, bin by bin, in which no octave alone makes a
 * line: the greatest counts for at most twice the second greatest plus one. Two beating tones modulate one
 * octave; a turning drum modulates most of them.
 */
export class OctaveMean {
  private readonly sum: Float64Array;
  private readonly top: Float64Array;
  private readonly second: Float64Array;
  private octaves = 0;

  constructor(private readonly count: number) {
    this.sum = new Float64Array(count);
    this.top = new Float64Array(count);
    this.second = new Float64Array(count);
  }

  /** Makes it ready for other octaves. */
  clear(): void {
    this.sum.fill(0);
    this.top.fill(0);
    this.second.fill(0);
    this.octaves = 0;
  }

  /** Counts the octaves; to be called before the values of each. */
  nextOctave(): void {
    this.octaves++;
  }

  put(bin: number, ratio: number): void {
    this.sum[bin]! += ratio;
    if (ratio > this.top[bin]!) {
      this.second[bin] = this.top[bin]!;
      this.top[bin] = ratio;
    } else if (ratio > this.second[bin]!) this.second[bin] = ratio;
  }

  /** ln of the mean. */
  logMean(bin: number): number {
    if (this.octaves < 2) return Math.log(this.sum[bin]! + 1e-9);
    const top = Math.min(this.top[bin]!, 2 * this.second[bin]! + 1);
    return Math.log((this.sum[bin]! - this.top[bin]! + top) / this.octaves + 1e-9);
  }

  /** ln of the mean without that limit. */
  logPlainMean(bin: number): number {
    return Math.log(this.sum[bin]! / Math.max(1, this.octaves) + 1e-9);
  }

  /** Shape [bins]. */
  logMeans(): Float64Array {
    const out = new Float64Array(this.count);
    for (let k = 0; k < out.length; k++) out[k] = this.logMean(k);
    return out;
  }

  /** Shape [bins]. */
  logPlainMeans(): Float64Array {
    const out = new Float64Array(this.count);
    for (let k = 0; k < out.length; k++) out[k] = this.logPlainMean(k);
    return out;
  }
}
