import type { VorbisCodebook } from "./codebook.js";
import type { LittleBitReader } from "./little-bit-reader.js";
import { VorbisSyntaxError } from "./syntax-error.js";

/** How the fine structure of the spectrum is written. */
export interface VorbisResidue {
  readonly kind: number;
  readonly begin: number;
  readonly end: number;
  readonly partitionSize: number;
  readonly classCount: number;
  readonly classBook: number;
  /** Codebook of each class in each of eight passes, -1 for none. */
  readonly books: readonly (readonly number[])[];
}

/** Reads one residue of the setup header. Source for this file: Vorbis I specification, section 8. */
export function readResidueSetup(
  reader: LittleBitReader,
  books: readonly VorbisCodebook[],
): VorbisResidue {
  const kind = reader.read(16);
  if (kind > 2) throw new VorbisSyntaxError("unknown kind of residue");
  const begin = reader.read(24);
  const end = reader.read(24);
  const partitionSize = reader.read(24) + 1;
  const classCount = reader.read(6) + 1;
  const classBook = reader.read(8);
  const cascades = Array.from({ length: classCount }, () => {
    const low = reader.read(3);
    return reader.read(1) === 1 ? reader.read(5) * 8 + low : low;
  });
  const passBooks = cascades.map((cascade) =>
    Array.from({ length: 8 }, (_, pass) => (((cascade >> pass) & 1) === 1 ? reader.read(8) : -1)),
  );
  const named = passBooks.flat().filter((book) => book >= 0);
  if (classBook >= books.length || named.some((book) => (books[book]?.vectors.length ?? 0) === 0)) {
    throw new VorbisSyntaxError("residue names a codebook that cannot serve");
  }
  return { kind, begin, end, partitionSize, classCount, classBook, books: passBooks };
}

/**
 * Adds the residue of a packet to the channels; stops quietly where the packet ends.
 *
 * @param channels lines of the channels of one submap, shape [channelCount][lineCount]
 * @param silent channels that carry nothing
 */
export function readResidue(
  reader: LittleBitReader,
  residue: VorbisResidue,
  books: readonly VorbisCodebook[],
  channels: readonly Float64Array[],
  silent: readonly boolean[],
): void {
  if (silent.every(Boolean)) return;
  if (residue.kind !== 2) {
    readVectorsInto(
      reader,
      residue,
      books,
      channels.filter((_, c) => !silent[c]),
    );
    return;
  }
  // All channels as one vector that takes their lines in turn.
  const count = channels.length;
  const lineCount = channels[0]!.length;
  const joined = new Float64Array(count * lineCount);
  readVectorsInto(reader, residue, books, [joined]);
  channels.forEach((lines, c) => {
    for (let k = 0, at = c; k < lineCount; k++, at += count) lines[k] = joined[at]!;
  });
}

// Pass by pass and, within a pass, by groups of partitions whose classes share one codeword.
function readVectorsInto(
  reader: LittleBitReader,
  residue: VorbisResidue,
  books: readonly VorbisCodebook[],
  vectors: readonly Float64Array[],
): void {
  const size = vectors[0]!.length;
  const begin = Math.min(residue.begin, size);
  const partitions = Math.floor((Math.min(residue.end, size) - begin) / residue.partitionSize);
  const classBook = books[residue.classBook]!;
  const perWord = classBook.dimensions;
  const classes = vectors.map(() => new Uint8Array(Math.max(0, partitions) + perWord));
  const readWhole = (pass: number, partition: number): boolean =>
    vectors.every((lines, v) => {
      const book = residue.books[classes[v]![partition]!]![pass]!;
      const at = begin + partition * residue.partitionSize;
      return book < 0 || readPartition(reader, books[book]!, lines, at, residue);
    });
  for (let pass = 0; pass < 8; pass++) {
    for (let partition = 0; partition < partitions; partition++) {
      const startsGroup = pass === 0 && partition % perWord === 0;
      if (startsGroup) {
        const whole = classes.every((own) =>
          readClasses(reader, classBook, own, partition, residue.classCount),
        );
        if (!whole) return;
      }
      if (!readWhole(pass, partition)) return;
    }
  }
}

function readClasses(
  reader: LittleBitReader,
  classBook: VorbisCodebook,
  classes: Uint8Array,
  partition: number,
  classCount: number,
): boolean {
  let word = classBook.read(reader);
  if (word < 0) return false;
  for (let i = classBook.dimensions - 1; i >= 0; i--) {
    classes[partition + i] = word % classCount;
    word = Math.floor(word / classCount);
  }
  return true;
}

function readPartition(
  reader: LittleBitReader,
  book: VorbisCodebook,
  lines: Float64Array,
  at: number,
  residue: VorbisResidue,
): boolean {
  const { dimensions, vectors } = book;
  const size = residue.partitionSize;
  const spread = residue.kind === 0 ? Math.floor(size / dimensions) : 1;
  const step = residue.kind === 0 ? 1 : dimensions;
  const end = residue.kind === 0 ? at + spread : at + size;
  for (let base = at; base < end; base += step) {
    const entry = book.read(reader);
    if (entry < 0) return false;
    for (let d = 0; d < dimensions; d++) {
      const line = base + d * spread;
      if (line < lines.length) lines[line]! += vectors[entry * dimensions + d]!;
    }
  }
  return true;
}
