import type { LittleBitReader } from "./little-bit-reader.js";
import { VorbisSyntaxError } from "./syntax-error.js";

/** A Vorbis codebook: codewords, and the vector each of them stands for. */
export interface VorbisCodebook {
  readonly dimensions: number;
  readonly entries: number;
  /** Vector of entry e at e * dimensions; empty for a codebook of plain numbers. */
  readonly vectors: Float64Array;
  /** The entry of the next codeword; -1 past the end of the packet. */
  read(reader: LittleBitReader): number;
}

const LOOKUP_BITS = 10;
const EMPTY = 0;

/** ilog of the Vorbis specification: bits needed to write x, 0 for 0. */
export const bitsNeeded = (x: number): number => 32 - Math.clz32(x);

/**
 * Reads one codebook of the setup header of at most `mostValues` entries times dimensions. Source for this
 * file: Vorbis I specification, section 3.
 */
export function readCodebook(reader: LittleBitReader, mostValues: number): VorbisCodebook {
  if (reader.read(24) !== 0x564342) throw new VorbisSyntaxError("codebook out of step");
  const dimensions = reader.read(16);
  const entries = reader.read(24);
  if (dimensions === 0 || entries === 0 || entries * dimensions > mostValues) {
    throw new VorbisSyntaxError("codebook of impossible size");
  }
  const lengths =
    reader.read(1) === 1 ? orderedLengths(reader, entries) : plainLengths(reader, entries);
  const vectors = readVectors(reader, entries, dimensions);
  if (reader.overrun) throw new VorbisSyntaxError("setup cut off");
  return { dimensions, entries, vectors, read: createEntryReader(lengths) };
}

function plainLengths(reader: LittleBitReader, entries: number): Uint8Array {
  const sparse = reader.read(1) === 1;
  const lengths = new Uint8Array(entries);
  for (let i = 0; i < entries && !reader.overrun; i++) {
    if (!sparse || reader.read(1) === 1) lengths[i] = reader.read(5) + 1;
  }
  return lengths;
}

function orderedLengths(reader: LittleBitReader, entries: number): Uint8Array {
  const lengths = new Uint8Array(entries);
  let length = reader.read(5) + 1;
  for (let at = 0; at < entries; length++) {
    const count = reader.read(bitsNeeded(entries - at));
    if (at + count > entries || length > 32) throw new VorbisSyntaxError("too many codewords");
    lengths.fill(length, at, at + count);
    at += count;
  }
  return lengths;
}

function unpackFloat(bits: number): number {
  const mantissa = bits & 0x1fffff;
  const exponent = (bits >>> 21) & 0x3ff;
  return (bits >= 2 ** 31 ? -mantissa : mantissa) * 2 ** (exponent - 788);
}

function readVectors(reader: LittleBitReader, entries: number, dimensions: number): Float64Array {
  const kind = reader.read(4);
  if (kind === 0) return new Float64Array(0);
  if (kind > 2) throw new VorbisSyntaxError("unknown kind of codebook");
  const lowest = unpackFloat(reader.read(32));
  const step = unpackFloat(reader.read(32));
  const valueBits = reader.read(4) + 1;
  const cumulative = reader.read(1) === 1;
  const perAxis = kind === 1 ? axisValues(entries, dimensions) : entries * dimensions;
  const values = Float64Array.from(
    { length: perAxis },
    () => reader.read(valueBits) * step + lowest,
  );
  const vectors = new Float64Array(entries * dimensions);
  for (let entry = 0; entry < entries; entry++) {
    let last = 0;
    let rest = entry;
    for (let d = 0; d < dimensions; d++) {
      const index = kind === 1 ? rest % perAxis : entry * dimensions + d;
      const value = values[index]! + last;
      vectors[entry * dimensions + d] = value;
      if (cumulative) last = value;
      rest = Math.floor(rest / perAxis);
    }
  }
  return vectors;
}

// The largest whole number whose power to `dimensions` is not above `entries`.
function axisValues(entries: number, dimensions: number): number {
  let values = Math.floor(entries ** (1 / dimensions));
  while ((values + 1) ** dimensions <= entries) values++;
  while (values ** dimensions > entries) values--;
  return values;
}

/** A binary tree: child `side` of node n at 2n + side; positive a node, negative -(entry + 1), 0 empty. */
interface CodeTree {
  readonly children: number[];
  readonly full: boolean[];
}

// Each entry takes the first free place at its depth, reading the tree from the left.
function place(tree: CodeTree, node: number, depth: number, entry: number): boolean {
  const { children, full } = tree;
  for (let side = 0; side < 2; side++) {
    const at = 2 * node + side;
    const child = children[at]!;
    if (depth === 1) {
      if (child !== EMPTY) continue;
      children[at] = -(entry + 1);
      full[node] = bothFull(tree, node);
      return true;
    }
    if (child < 0 || (child > 0 && full[child])) continue;
    const next = child > 0 ? child : children.length / 2;
    if (child === EMPTY) {
      children[at] = next;
      children.push(EMPTY, EMPTY);
      full.push(false);
    }
    if (place(tree, next, depth - 1, entry)) {
      full[node] = bothFull(tree, node);
      return true;
    }
  }
  return false;
}

function bothFull(tree: CodeTree, node: number): boolean {
  const taken = (child: number): boolean => child < 0 || (child > 0 && tree.full[child]!);
  return taken(tree.children[2 * node]!) && taken(tree.children[2 * node + 1]!);
}

function createEntryReader(lengths: Uint8Array): (reader: LittleBitReader) => number {
  const tree: CodeTree = { children: [EMPTY, EMPTY], full: [false] };
  let used = 0;
  lengths.forEach((length, entry) => {
    if (length === 0) return;
    used++;
    if (!place(tree, 0, length, entry)) throw new VorbisSyntaxError("too many codewords");
  });
  // A codebook of a single entry has a codeword of one bit of either value.
  if (used === 1) tree.children[1] = tree.children[0]!;
  const children = Int32Array.from(tree.children);
  const lookup = createLookup(children);
  return (reader) => {
    const found = lookup[reader.peek(LOOKUP_BITS)]!;
    reader.position += found >>> 26;
    let node = (found << 6) >> 6;
    while (node > 0) node = children[2 * node + reader.read(1)]!;
    return reader.overrun ? -1 : -node - 1;
  };
}

// For each pattern of the next bits: bits used in the upper 6 bits, node or leaf reached in the lower 26.
function createLookup(children: Int32Array): Int32Array {
  return Int32Array.from({ length: 1 << LOOKUP_BITS }, (_, pattern) => {
    let node = 0;
    let used = 0;
    do node = children[2 * node + ((pattern >> used++) & 1)]!;
    while (node > 0 && used < LOOKUP_BITS);
    return (used << 26) | (node & 0x3ffffff);
  });
}
