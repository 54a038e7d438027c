import type { BitReader } from "../bit-reader.js";
import { AAC_CODEBOOKS, type AacCodebookRow } from "./codebooks.data.js";

/** A codebook ready for decoding. */
export interface AacCodebook {
  readonly dimension: number;
  /** The values of entry e stand at e * dimension. */
  readonly values: Int8Array;
  /** Whether a sign bit follows each value that is not zero. */
  readonly signsFollow: boolean;
  /** The entry number of the next codeword. */
  read(reader: BitReader): number;
}

const LOOKUP_BITS = 9;
const LONGEST = 19;
const unsignedBooks = [3, 4, 7, 8, 9, 10, 11];

function createCodebook(row: AacCodebookRow): AacCodebook {
  const { lengthCounts, entries } = row;
  // limits[L]: codewords of L bits, left-aligned in LONGEST bits, are smaller than this.
  const limits = new Int32Array(LONGEST + 1);
  const bases = new Int32Array(LONGEST + 1);
  const lookup = new Int32Array(1 << LOOKUP_BITS);
  let code = 0;
  let index = 0;
  for (let length = 1; length <= LONGEST; length++) {
    const count = lengthCounts[length - 1] ?? 0;
    bases[length] = index - code;
    for (let i = 0; i < count && length <= LOOKUP_BITS; i++) {
      const spread = LOOKUP_BITS - length;
      lookup.fill(
        (length << 16) | entries[index + i]!,
        (code + i) << spread,
        (code + i + 1) << spread,
      );
    }
    index += count;
    code += count;
    limits[length] = code * 2 ** (LONGEST - length);
    code *= 2;
  }
  const read = (reader: BitReader): number => {
    const window = reader.peek(LONGEST);
    const found = lookup[window >>> (LONGEST - LOOKUP_BITS)]!;
    if (found !== 0) {
      reader.position += found >>> 16;
      return found & 0xffff;
    }
    let length = LOOKUP_BITS + 1;
    while (length < LONGEST && window >= limits[length]!) length++;
    reader.position += length;
    return entries[(window >>> (LONGEST - length)) + bases[length]!] ?? 0;
  };
  return {
    dimension: row.dimension,
    values: unpackValues(row),
    signsFollow: unsignedBooks.includes(row.codebook),
    read,
  };
}

function unpackValues(row: AacCodebookRow): Int8Array {
  const values = new Int8Array(row.levels ** row.dimension * row.dimension);
  for (let entry = 0; entry < row.levels ** row.dimension; entry++) {
    let rest = entry;
    for (let d = row.dimension - 1; d >= 0; d--) {
      values[entry * row.dimension + d] = (rest % row.levels) - row.offset;
      rest = Math.floor(rest / row.levels);
    }
  }
  return values;
}

const ready: (AacCodebook | undefined)[] = [];

/** Spectral codebook 1 to 11, or 0 for scale factors; made at first use. */
export function aacCodebook(number: number): AacCodebook {
  return (ready[number] ??= createCodebook(AAC_CODEBOOKS.find((row) => row.codebook === number)!));
}
