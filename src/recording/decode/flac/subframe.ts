import type { BitReader } from "../bit-reader.js";

// Coefficients of the fixed predictors of order 0 to 4. Source: RFC 9639, section 9.2.5.
const fixedPredictors: readonly (readonly number[])[] = [
  [],
  [1],
  [2, -1],
  [3, -3, 1],
  [4, -6, 4, -1],
];

/**
 * Reads one channel of a frame as whole numbers; null where it breaks the rules.
 *
 * @param bits sample size of this channel, 4 to 25
 */
export function readSubframe(reader: BitReader, count: number, bits: number): Float64Array | null {
  reader.skip(1);
  const type = reader.read(6);
  const wasted = reader.read(1) === 1 ? 1 + readUnary(reader) : 0;
  const width = bits - wasted;
  if (width < 1) return null;
  const samples = new Float64Array(count);
  if (!readSamples(reader, type, samples, width)) return null;
  if (wasted > 0) for (let i = 0; i < count; i++) samples[i]! *= 2 ** wasted;
  return samples;
}

function readSamples(
  reader: BitReader,
  type: number,
  samples: Float64Array,
  width: number,
): boolean {
  if (type === 0) {
    samples.fill(readSigned(reader, width));
    return true;
  }
  if (type === 1) {
    for (let i = 0; i < samples.length; i++) samples[i] = readSigned(reader, width);
    return true;
  }
  if (type >= 8 && type <= 12) {
    return readPredicted(reader, samples, width, fixedPredictors[type - 8]!);
  }
  return type >= 32 && readPredicted(reader, samples, width, null, type - 31);
}

// A fixed predictor is given; a linear one is read after the warm-up samples.
function readPredicted(
  reader: BitReader,
  samples: Float64Array,
  width: number,
  fixed: readonly number[] | null,
  order = fixed?.length ?? 0,
): boolean {
  if (order > samples.length) return false;
  for (let i = 0; i < order; i++) samples[i] = readSigned(reader, width);
  let coefficients = fixed ?? [];
  let shift = 0;
  if (fixed === null) {
    const precision = reader.read(4) + 1;
    shift = readSigned(reader, 5);
    if (precision === 16 || shift < 0) return false;
    coefficients = Array.from({ length: order }, () => readSigned(reader, precision));
  }
  if (!readResidual(reader, samples, order)) return false;
  if (order > 0) predict(samples, Float64Array.from(coefficients), 2 ** -shift);
  return true;
}

// Sums stay below 2^50, so doubles hold them exactly where 32-bit integers would not.
function predict(samples: Float64Array, coefficients: Float64Array, scale: number): void {
  const order = coefficients.length;
  for (let i = order; i < samples.length; i++) {
    let sum = 0;
    for (let j = 0; j < order; j++) sum += coefficients[j]! * samples[i - 1 - j]!;
    samples[i]! += Math.floor(sum * scale);
  }
}

function readResidual(reader: BitReader, samples: Float64Array, order: number): boolean {
  const method = reader.read(2);
  if (method > 1) return false;
  const parameterBits = 4 + method;
  const escape = (1 << parameterBits) - 1;
  const partitions = 1 << reader.read(4);
  const length = samples.length / partitions;
  if (!Number.isInteger(length) || length < order) return false;
  for (let partition = 0; partition < partitions; partition++) {
    const from = partition === 0 ? order : partition * length;
    const to = (partition + 1) * length;
    const parameter = reader.read(parameterBits);
    if (parameter === escape) {
      const width = reader.read(5);
      for (let i = from; i < to; i++) samples[i] = width === 0 ? 0 : readSigned(reader, width);
    } else readRice(reader, samples, from, to, parameter);
    if (reader.overrun) return false;
  }
  return true;
}

function readRice(
  reader: BitReader,
  samples: Float64Array,
  from: number,
  to: number,
  parameter: number,
): void {
  // Codes below this fit into 31 bits and are put together by shifting.
  const fits = parameter <= 25 ? 1 << (30 - parameter) : 0;
  for (let i = from; i < to; i++) {
    const high = readUnary(reader);
    if (high < fits) {
      const folded = (high << parameter) | reader.read(parameter);
      samples[i] = (folded >>> 1) ^ -(folded & 1);
    } else {
      const folded = high * 2 ** parameter + reader.readLong(parameter);
      samples[i] = folded % 2 === 0 ? folded / 2 : -(folded + 1) / 2;
    }
  }
}

// Zeros before the next one.
function readUnary(reader: BitReader): number {
  let zeros = 0;
  for (;;) {
    const window = reader.peek(25);
    if (window !== 0) {
      const more = Math.clz32(window) - 7;
      reader.skip(more + 1);
      return zeros + more;
    }
    zeros += 25;
    reader.skip(25);
    if (reader.overrun) return zeros;
  }
}

function readSigned(reader: BitReader, width: number): number {
  const value = reader.readLong(width);
  return value >= 2 ** (width - 1) ? value - 2 ** width : value;
}
