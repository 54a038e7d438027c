/**
 * Reads bits from the most significant end of each byte. Past the end it yields zeros and counts on,
 * so that a caller can look at `overrun` once per frame instead of at every read.
 */
export class BitReader {
  private bytes: Uint8Array;
  /** Position in bits from the start. */
  position = 0;
  private endBits: number;

  constructor(bytes: Uint8Array) {
    this.bytes = bytes;
    this.endBits = bytes.length * 8;
  }

  get overrun(): boolean {
    return this.position > this.endBits;
  }

  get bitsLeft(): number {
    return this.endBits - this.position;
  }

  /** The next 0 to 25 bits, without moving. */
  peek(count: number): number {
    const at = this.position >>> 3;
    const bytes = this.bytes;
    const word =
      at + 4 <= bytes.length
        ? (bytes[at]! << 24) | (bytes[at + 1]! << 16) | (bytes[at + 2]! << 8) | bytes[at + 3]!
        : ((bytes[at] ?? 0) << 24) |
          ((bytes[at + 1] ?? 0) << 16) |
          ((bytes[at + 2] ?? 0) << 8) |
          (bytes[at + 3] ?? 0);
    return count === 0 ? 0 : (word << (this.position & 7)) >>> (32 - count);
  }

  /** The next 0 to 25 bits. */
  read(count: number): number {
    const value = this.peek(count);
    this.position += count;
    return value;
  }

  /** The next 0 to 32 bits. */
  readLong(count: number): number {
    if (count <= 25) return this.read(count);
    const high = this.read(count - 16);
    return high * 65536 + this.read(16);
  }

  skip(count: number): void {
    this.position += count;
  }

  alignToByte(): void {
    this.position = (this.position + 7) & ~7;
  }
}
