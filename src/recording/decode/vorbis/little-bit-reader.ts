/** Reads bits from the least significant end of each byte; past the end it yields zeros and counts on. */
export class LittleBitReader {
  private readonly bytes: Uint8Array;
  /** Position in bits from the start. */
  position = 0;

  constructor(bytes: Uint8Array) {
    this.bytes = bytes;
  }

  get overrun(): boolean {
    return this.position > this.bytes.length * 8;
  }

  /** The next 0 to 24 bits, without moving. */
  peek(count: number): number {
    const at = this.position >>> 3;
    const bytes = this.bytes;
    const word =
      (bytes[at] ?? 0) |
      ((bytes[at + 1] ?? 0) << 8) |
      ((bytes[at + 2] ?? 0) << 16) |
      ((bytes[at + 3] ?? 0) << 24);
    return (word >>> (this.position & 7)) & ((1 << count) - 1);
  }

  /** The next 0 to 32 bits. */
  read(count: number): number {
    if (count > 24) {
      const low = this.read(16);
      return low + this.read(count - 16) * 65536;
    }
    const value = this.peek(count);
    this.position += count;
    return value;
  }
}
