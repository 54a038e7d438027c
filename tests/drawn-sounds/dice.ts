/** Chance from a seed: the same seed gives the same draws on every computer. */
export class Dice {
  private a: number;
  private b: number;
  private c: number;
  private turn = 1;

  constructor(seed: number) {
    this.a = (seed ^ 0x3c6ef372) >>> 0;
    this.b = Math.imul(seed + 0x1b873593, 0x2c1b3c6d) >>> 0;
    this.c = 0x7f4a7c15;
    for (let k = 0; k < 16; k++) this.unit();
  }

  /** Evenly spread from 0 to below 1 (small fast counting generator, 32 bits). */
  unit(): number {
    const sum = (this.a + this.b + this.turn++) | 0;
    this.a = this.b ^ (this.b >>> 9);
    this.b = (this.c + (this.c << 3)) | 0;
    this.c = ((this.c << 21) | (this.c >>> 11)) + sum;
    return (sum >>> 0) / 4_294_967_296;
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.unit();
  }

  /** Evenly spread in ratio: right for frequencies, decays and speeds. */
  ratio(low: number, high: number): number {
    return low * Math.pow(high / low, this.unit());
  }

  whole(low: number, high: number): number {
    return low + Math.floor(this.unit() * (high - low + 1));
  }

  chance(probability: number): boolean {
    return this.unit() < probability;
  }

  /** Nearly normal, mean 0, spread 1; never beyond 4.2. */
  bell(): number {
    let sum = 0;
    for (let k = 0; k < 6; k++) sum += this.unit();
    return (sum - 3) * Math.SQRT2;
  }

  one<T>(choices: readonly T[]): T {
    return choices[Math.floor(this.unit() * choices.length)]!;
  }

  weighted<T>(choices: readonly (readonly [choice: T, weight: number])[]): T {
    let left = this.unit() * choices.reduce((sum, [, weight]) => sum + weight, 0);
    for (const [choice, weight] of choices) {
      left -= weight;
      if (left < 0) return choice;
    }
    return choices[choices.length - 1]![0];
  }

  /** Waiting time until the next event of a process without memory. */
  wait(meanSeconds: number): number {
    return -Math.log(1 - this.unit()) * meanSeconds;
  }
}
