function table(polynomial: number, width: 8 | 16): Uint16Array {
  const top = 1 << (width - 1);
  const mask = 2 ** width - 1;
  return Uint16Array.from({ length: 256 }, (_, byte) => {
    let value = byte << (width - 8);
    for (let bit = 0; bit < 8; bit++) {
      value = ((value & top) !== 0 ? (value << 1) ^ polynomial : value << 1) & mask;
    }
    return value;
  });
}

const table8 = table(0x07, 8);
const table16 = table(0x8005, 16);

/** Check sum of a frame header: x^8 + x^2 + x + 1, start 0. Source: RFC 9639, section 9.1.8. */
export function crc8(bytes: Uint8Array, from: number, to: number): number {
  let value = 0;
  for (let i = from; i < to; i++) value = table8[value ^ bytes[i]!]!;
  return value;
}

/** Check sum of a frame: x^16 + x^15 + x^2 + 1, start 0. Source: RFC 9639, section 9.3. */
export function crc16(bytes: Uint8Array, from: number, to: number): number {
  let value = 0;
  for (let i = from; i < to; i++) {
    value = ((value << 8) & 0xffff) ^ table16[(value >> 8) ^ bytes[i]!]!;
  }
  return value;
}
