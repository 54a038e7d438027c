/**
 * The 256 values of mu-law, full scale ±1.
 *
 * The inverted byte holds sign, exponent e and mantissa m; y = ±((2m + 33) 2^e - 33), 8192 being full
 * scale, so that the largest is 8031. Source: ITU-T G.711, table 2.
 */
export function muLawTable(): Float32Array {
  return Float32Array.from({ length: 256 }, (_, byte) => {
    const code = ~byte & 0xff;
    const exponent = (code >> 4) & 7;
    const magnitude = ((2 * (code & 15) + 33) << exponent) - 33;
    return ((code & 0x80) !== 0 ? -magnitude : magnitude) / 8192;
  });
}

/**
 * The 256 values of A-law, full scale ±1.
 *
 * Every other bit is inverted; y = ±(2m + 1) in the lowest segment, ±(2m + 33) 2^(e-1) above it, 4096
 * being full scale. Source: ITU-T G.711, table 1.
 */
export function aLawTable(): Float32Array {
  return Float32Array.from({ length: 256 }, (_, byte) => {
    const code = byte ^ 0x55;
    const exponent = (code >> 4) & 7;
    const mantissa = code & 15;
    const magnitude = exponent === 0 ? 2 * mantissa + 1 : (2 * mantissa + 33) << (exponent - 1);
    return ((code & 0x80) !== 0 ? magnitude : -magnitude) / 4096;
  });
}
