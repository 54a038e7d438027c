import { bitsNeeded, type VorbisCodebook } from "./codebook.js";
import type { LittleBitReader } from "./little-bit-reader.js";
import { VorbisSyntaxError } from "./syntax-error.js";

interface FloorClass {
  readonly dimensions: number;
  readonly subclassBits: number;
  readonly masterBook: number;
  /** Codebook of each subclass, -1 for none. */
  readonly books: readonly number[];
}

/** A spectral envelope drawn as line segments (floor type 1). */
export interface VorbisFloor {
  readonly multiplier: number;
  readonly partitions: readonly FloorClass[];
  readonly positions: readonly number[];
  /** Indices of the positions from left to right. */
  readonly order: readonly number[];
  /** Nearest earlier positions to the left and right of each. */
  readonly lower: readonly number[];
  readonly upper: readonly number[];
}

const ranges = [256, 128, 86, 64];
// 256 steps of 140/256 dB up to 0 dB; equal to the table of the specification, section 10.1, to 7 digits.
const amplitudes = Float64Array.from(
  { length: 256 },
  (_, i) => 10 ** (((i - 255) * 0.546875) / 20),
);

/** Reads one floor of the setup header. Source for this file: Vorbis I specification, section 7. */
export function readFloorSetup(reader: LittleBitReader, bookCount: number): VorbisFloor {
  const kind = reader.read(16);
  if (kind !== 1) throw new VorbisSyntaxError("floor of another type than 1");
  const classNumbers = Array.from({ length: reader.read(5) }, () => reader.read(4));
  const classCount = classNumbers.length === 0 ? 0 : Math.max(...classNumbers) + 1;
  const classes = Array.from({ length: classCount }, () => readClass(reader, bookCount));
  const multiplier = reader.read(2) + 1;
  const rangeBits = reader.read(4);
  const positions = [0, 1 << rangeBits];
  const partitions = classNumbers.map((number) => classes[number]!);
  for (const { dimensions } of partitions) {
    for (let i = 0; i < dimensions; i++) positions.push(reader.read(rangeBits));
  }
  if (new Set(positions).size < positions.length) throw new VorbisSyntaxError("floor folds back");
  const order = positions.map((_, i) => i).sort((a, b) => positions[a]! - positions[b]!);
  const neighbour = (i: number, side: 1 | -1): number => {
    let best = side === 1 ? 1 : 0;
    for (let j = 0; j < i; j++) {
      const nearer = side * (positions[best]! - positions[j]!) > 0;
      if (side * (positions[j]! - positions[i]!) > 0 && nearer) best = j;
    }
    return best;
  };
  return {
    multiplier,
    partitions,
    positions,
    order,
    lower: positions.map((_, i) => neighbour(i, -1)),
    upper: positions.map((_, i) => neighbour(i, 1)),
  };
}

function readClass(reader: LittleBitReader, bookCount: number): FloorClass {
  const dimensions = reader.read(3) + 1;
  const subclassBits = reader.read(2);
  const masterBook = subclassBits > 0 ? reader.read(8) : 0;
  const books = Array.from({ length: 1 << subclassBits }, () => reader.read(8) - 1);
  if ([masterBook, ...books].some((book) => book >= bookCount)) {
    throw new VorbisSyntaxError("floor names a codebook that is not there");
  }
  return { dimensions, subclassBits, masterBook, books };
}

/** The heights of a packet's envelope; null where the channel is silent. */
export function readFloorHeights(
  reader: LittleBitReader,
  floor: VorbisFloor,
  books: readonly VorbisCodebook[],
): Int32Array | null {
  if (reader.read(1) === 0) return null;
  const heights = new Int32Array(floor.positions.length);
  const bits = bitsNeeded(ranges[floor.multiplier - 1]! - 1);
  heights[0] = reader.read(bits);
  heights[1] = reader.read(bits);
  let at = 2;
  for (const part of floor.partitions) {
    let choice = part.subclassBits > 0 ? books[part.masterBook]!.read(reader) : 0;
    for (let i = 0; i < part.dimensions; i++) {
      const book = part.books[choice & ((1 << part.subclassBits) - 1)]!;
      choice >>= part.subclassBits;
      heights[at++] = book >= 0 ? books[book]!.read(reader) : 0;
    }
  }
  return reader.overrun ? null : heights;
}

/** Multiplies the residue by the envelope, in place; shape [lineCount]. */
export function applyFloor(floor: VorbisFloor, heights: Int32Array, lines: Float64Array): void {
  const { final, drawn } = unwrap(floor, heights);
  const { order, positions, multiplier } = floor;
  let x0 = 0;
  let y0 = final[0]! * multiplier;
  for (const i of order.slice(1)) {
    if (drawn[i] === 0) continue;
    const x1 = positions[i]!;
    const y1 = final[i]! * multiplier;
    drawLine(lines, x0, y0, x1, y1);
    x0 = x1;
    y0 = y1;
  }
  const level = amplitudes[y0]!;
  for (let k = x0; k < lines.length; k++) lines[k]! *= level;
}

// Heights are written as differences to a line between neighbours, folded to stay in range.
function unwrap(floor: VorbisFloor, heights: Int32Array): { final: Int32Array; drawn: Uint8Array } {
  const range = ranges[floor.multiplier - 1]!;
  const final = new Int32Array(heights.length);
  const drawn = new Uint8Array(heights.length);
  final[0] = heights[0]!;
  final[1] = heights[1]!;
  drawn[0] = drawn[1] = 1;
  for (let i = 2; i < heights.length; i++) {
    const low = floor.lower[i]!;
    const high = floor.upper[i]!;
    const predicted = pointOnLine(floor.positions, final, low, high, i);
    const value = heights[i]!;
    if (value !== 0) drawn[low] = drawn[high] = drawn[i] = 1;
    final[i] = Math.max(0, Math.min(range - 1, unfold(value, predicted, range)));
  }
  return { final, drawn };
}

function unfold(value: number, predicted: number, range: number): number {
  const above = range - predicted;
  if (value >= 2 * Math.min(above, predicted)) {
    return above > predicted ? value : predicted - value + above - 1;
  }
  return value % 2 === 1 ? predicted - (value + 1) / 2 : predicted + value / 2;
}

function pointOnLine(
  positions: readonly number[],
  final: Int32Array,
  low: number,
  high: number,
  at: number,
): number {
  const rise = final[high]! - final[low]!;
  const run = positions[high]! - positions[low]!;
  const offset = Math.floor((Math.abs(rise) * (positions[at]! - positions[low]!)) / run);
  return rise < 0 ? final[low]! - offset : final[low]! + offset;
}

// A line in whole steps (Bresenham), as the specification prescribes to the bit.
function drawLine(lines: Float64Array, x0: number, y0: number, x1: number, y1: number): void {
  const run = x1 - x0;
  const base = Math.trunc((y1 - y0) / run);
  const steep = y1 < y0 ? base - 1 : base + 1;
  const part = Math.abs(y1 - y0) - Math.abs(base) * run;
  const end = Math.min(x1, lines.length);
  let y = y0;
  let error = 0;
  for (let x = x0; x < end; x++) {
    lines[x]! *= amplitudes[y]!;
    error += part;
    if (error >= run) {
      error -= run;
      y += steep;
    } else y += base;
  }
}
