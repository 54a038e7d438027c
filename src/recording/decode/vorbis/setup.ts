import { bitsNeeded, readCodebook, type VorbisCodebook } from "./codebook.js";
import { readFloorSetup, type VorbisFloor } from "./floor.js";
import { LittleBitReader } from "./little-bit-reader.js";
import { readResidueSetup, type VorbisResidue } from "./residue.js";
import { VorbisSyntaxError } from "./syntax-error.js";

// Entries times dimensions over all codebooks. Far above what encoders write; keeps a hostile header from
// taking all memory.
const MOST_VALUES = 1 << 22;

export interface VorbisIdentity {
  readonly channelCount: number;
  readonly sampleRateHz: number;
  /** Short and long block, in samples. */
  readonly blockSizes: readonly [number, number];
}

interface Coupling {
  readonly magnitude: number;
  readonly angle: number;
}

export interface VorbisMapping {
  /** In the order in which they are undone: last first. */
  readonly couplings: readonly Coupling[];
  /** Submap of each channel. */
  readonly submapOf: readonly number[];
  readonly submaps: readonly { readonly floor: number; readonly residue: number }[];
}

export interface VorbisMode {
  readonly long: boolean;
  readonly mapping: number;
}

/** All that the three headers say. */
export interface VorbisSetup {
  readonly identity: VorbisIdentity;
  readonly books: readonly VorbisCodebook[];
  readonly floors: readonly VorbisFloor[];
  readonly residues: readonly VorbisResidue[];
  readonly mappings: readonly VorbisMapping[];
  readonly modes: readonly VorbisMode[];
}

/** Splits the three headers, laced together as Matroska and the demuxer hand them over. */
export function splitHeaders(description: Uint8Array): [Uint8Array, Uint8Array] {
  let at = 1;
  const lengths = [0, 0];
  for (let i = 0; i < 2; i++) {
    while (description[at] === 255) lengths[i]! += description[at++]!;
    lengths[i]! += description[at++] ?? 0;
  }
  const setupAt = at + lengths[0]! + lengths[1]!;
  return [description.subarray(at, at + lengths[0]!), description.subarray(setupAt)];
}

function openHeader(bytes: Uint8Array, type: number): LittleBitReader {
  const marked = bytes[0] === type && String.fromCharCode(...bytes.subarray(1, 7)) === "vorbis";
  if (!marked) throw new VorbisSyntaxError("header missing");
  return new LittleBitReader(bytes.subarray(7));
}

function readIdentity(bytes: Uint8Array): VorbisIdentity {
  const reader = openHeader(bytes, 1);
  reader.read(32);
  const channelCount = reader.read(8);
  const sampleRateHz = reader.read(32);
  reader.position += 96;
  const blockSizes: [number, number] = [1 << reader.read(4), 1 << reader.read(4)];
  const [short, long] = blockSizes;
  if (channelCount === 0 || short < 64 || long > 8192 || short > long) {
    throw new VorbisSyntaxError("impossible header");
  }
  return { channelCount, sampleRateHz, blockSizes };
}

/** Reads the identification and setup headers. Source: Vorbis I specification, section 4.2. */
export function readSetup(description: Uint8Array): VorbisSetup {
  const [first, third] = splitHeaders(description);
  const identity = readIdentity(first);
  const reader = openHeader(third, 5);
  const list = <T>(bits: number, read: () => T): T[] =>
    Array.from({ length: reader.read(bits) + 1 }, read);
  let values = 0;
  const books = list(8, () => {
    const book = readCodebook(reader, MOST_VALUES - values);
    values += book.entries * book.dimensions;
    return book;
  });
  list(6, () => reader.read(16));
  const floors = list(6, () => readFloorSetup(reader, books.length));
  const residues = list(6, () => readResidueSetup(reader, books));
  const mappings = list(6, () => readMapping(reader, identity.channelCount));
  const modes = list(6, () => readMode(reader));
  const complete =
    mappings.every((m) => m.submaps.every((s) => floors[s.floor] && residues[s.residue])) &&
    modes.every((mode) => mappings[mode.mapping]);
  if (reader.overrun || !complete) throw new VorbisSyntaxError("setup cut off");
  return { identity, books, floors, residues, mappings, modes };
}

function readMapping(reader: LittleBitReader, channelCount: number): VorbisMapping {
  reader.read(16);
  const submapCount = reader.read(1) === 1 ? reader.read(4) + 1 : 1;
  const couplingCount = reader.read(1) === 1 ? reader.read(8) + 1 : 0;
  const bits = bitsNeeded(channelCount - 1);
  const couplings = Array.from({ length: couplingCount }, () => ({
    magnitude: reader.read(bits),
    angle: reader.read(bits),
  }));
  reader.read(2);
  const submapOf = Array.from({ length: channelCount }, () =>
    submapCount > 1 ? reader.read(4) : 0,
  );
  const submaps = Array.from({ length: submapCount }, () => {
    reader.read(8);
    return { floor: reader.read(8), residue: reader.read(8) };
  });
  const inRange = couplings.every(
    ({ magnitude, angle }) =>
      magnitude !== angle && magnitude < channelCount && angle < channelCount,
  );
  if (!inRange || submapOf.some((s) => s >= submapCount)) {
    throw new VorbisSyntaxError("impossible channel mapping");
  }
  return { couplings: couplings.reverse(), submapOf, submaps };
}

function readMode(reader: LittleBitReader): VorbisMode {
  const long = reader.read(1) === 1;
  reader.read(32);
  return { long, mapping: reader.read(8) };
}
