/** Repeatable chance: the same seed and name always roll the same numbers. */
export class Dice {
  #a: number;
  #b: number;
  #c: number;
  #count = 1;

  constructor(private readonly name: string) {
    let h = 0x811c9dc5;
    const word = (): number => {
      for (let k = 0; k < name.length; k++) h = Math.imul(h ^ name.charCodeAt(k), 0x01000193);
      h = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d);
      h ^= h >>> 13;
      return h >>> 0;
    };
    this.#a = word();
    this.#b = word();
    this.#c = word();
    for (let k = 0; k < 12; k++) this.next();
  }

  /** Dice of its own for one matter, so that a new recipe does not shift the rolls of another. */
  branch(name: string): Dice {
    return new Dice(`${this.name}/${name}`);
  }

  /** Even over [0, 1): the small fast counter generator of three words. */
  next(): number {
    const sum = (this.#a + this.#b + this.#count) >>> 0;
    this.#count = (this.#count + 1) >>> 0;
    this.#a = (this.#b ^ (this.#b >>> 9)) >>> 0;
    this.#b = (this.#c + (this.#c << 3)) >>> 0;
    this.#c = (((this.#c << 21) | (this.#c >>> 11)) + sum) >>> 0;
    return sum / 4294967296;
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.next();
  }

  /** Even in the logarithm. */
  spread(low: number, high: number): number {
    return low * (high / low) ** this.next();
  }

  whole(low: number, high: number): number {
    return Math.floor(this.between(low, high + 1));
  }

  pick<T>(from: readonly T[]): T {
    return from[Math.floor(this.next() * from.length)]!;
  }

  /** Index drawn in proportion to the weights. */
  weighted(weights: readonly number[]): number {
    let left = this.next() * weights.reduce((sum, w) => sum + w, 0);
    const at = weights.findIndex((w) => (left -= w) < 0);
    return at < 0 ? weights.length - 1 : at;
  }

  chance(share: number): boolean {
    return this.next() < share;
  }

  /** Normal, mean 0, deviation 1. */
  bell(): number {
    return Math.sqrt(-2 * Math.log(1 - this.next())) * Math.cos(2 * Math.PI * this.next());
  }
}
