/** Seeded random numbers (sfc32 after a text hash); every named part of a clip rolls its own dice. */
export class Dice {
  private a = 0;
  private b = 0;
  private c = 0;
  private d = 1;

  constructor(private readonly name: string) {
    let h = 0x811c9dc5;
    for (let i = 0; i < name.length; i++) h = Math.imul(h ^ name.charCodeAt(i), 0x01000193);
    this.a = h | 0;
    this.b = Math.imul(h ^ 0x9e3779b9, 0x85ebca6b);
    this.c = Math.imul(h ^ (h >>> 15), 0xc2b2ae35);
    for (let i = 0; i < 16; i++) this.unit();
  }

  /** Dice of their own for a named part, so that parts do not disturb each other. */
  part(name: string): Dice {
    return new Dice(`${this.name}/${name}`);
  }

  /** Uniform in [0, 1). */
  unit(): number {
    const t = (this.a + this.b + this.d) | 0;
    this.d = (this.d + 1) | 0;
    this.a = this.b ^ (this.b >>> 9);
    this.b = (this.c + (this.c << 3)) | 0;
    this.c = ((this.c << 21) | (this.c >>> 11)) + t;
    return (t >>> 0) / 4294967296;
  }

  range(low: number, high: number): number {
    return low + (high - low) * this.unit();
  }

  /** Log-uniform. */
  ratio(low: number, high: number): number {
    return low * Math.pow(high / low, this.unit());
  }

  /** Whole number from low to high, both included. */
  whole(low: number, high: number): number {
    return low + Math.floor(this.unit() * (high - low + 1));
  }

  chance(probability: number): boolean {
    return this.unit() < probability;
  }

  pick<T>(list: readonly T[]): T {
    return list[Math.floor(this.unit() * list.length)]!;
  }

  gauss(): number {
    return Math.sqrt(-2 * Math.log(1 - this.unit())) * Math.cos(2 * Math.PI * this.unit());
  }

  /** White noise of RMS 1. */
  noise(length: number): Float32Array {
    const out = new Float32Array(length);
    const scale = 2 * Math.sqrt(3);
    for (let i = 0; i < length; i++) out[i] = (this.unit() - 0.5) * scale;
    return out;
  }
}
