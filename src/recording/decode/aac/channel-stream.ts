import type { BitReader } from "../bit-reader.js";
import { AAC_BANDS } from "./bands.data.js";
import { AacSyntaxError } from "./syntax-error.js";
import { aacCodebook } from "./huffman.js";
import { readSpectrum, type Pulse } from "./spectrum.js";
import { readTns } from "./tns.js";
import {
  EIGHT_SHORT,
  INTENSITY_BOOK_NEGATIVE,
  NOISE_BOOK,
  type ChannelFrame,
  type WindowLayout,
} from "./frame.js";

/** Reads `ics_info`. Source for this file: ISO/IEC 14496-3, 4.4.2 and 4.6.2 to 4.6.3. */
export function readLayout(reader: BitReader, rateIndex: number): WindowLayout {
  const bands = AAC_BANDS[rateIndex]!;
  reader.skip(1);
  const sequence = reader.read(2);
  const shape = reader.read(1);
  const isShort = sequence === EIGHT_SHORT;
  const bandCount = reader.read(isShort ? 4 : 6);
  const edges = isShort ? bands.short : bands.long;
  if (bandCount >= edges.length) throw new AacSyntaxError("more bands than the rate has");
  const groups = isShort ? readGroups(reader) : [1];
  if (!isShort && reader.read(1) === 1) throw new AacSyntaxError("prediction in AAC-LC");
  return {
    sequence,
    shape,
    windowCount: isShort ? 8 : 1,
    windowLines: isShort ? 128 : 1024,
    bandCount,
    edges,
    groups,
    tnsLimit: isShort ? bands.tnsShort : bands.tnsLong,
  };
}

function readGroups(reader: BitReader): number[] {
  const groups = [1];
  for (let window = 1; window < 8; window++) {
    if (reader.read(1) === 1) groups[groups.length - 1]!++;
    else groups.push(1);
  }
  return groups;
}

/**
 * Reads `individual_channel_stream` into lines.
 *
 * @param shared the layout that a channel pair has in common, where it has one
 * @param spectrum receives the lines, shape [1024]
 */
export function readChannel(
  reader: BitReader,
  rateIndex: number,
  shared: WindowLayout | null,
  spectrum: Float64Array,
): ChannelFrame {
  const globalGain = reader.read(8);
  const layout = shared ?? readLayout(reader, rateIndex);
  const books = readBooks(reader, layout);
  const scales = readScales(reader, books, globalGain);
  const pulses = reader.read(1) === 1 ? readPulses(reader, layout) : [];
  const tns = reader.read(1) === 1 ? readTns(reader, layout) : [];
  if (reader.read(1) === 1) throw new AacSyntaxError("gain control in AAC-LC");
  readSpectrum(reader, { layout, books, scales, pulses }, spectrum);
  return { layout, books, scales, tns, spectrum };
}

function readBooks(reader: BitReader, layout: WindowLayout): Uint8Array {
  const { groups, bandCount } = layout;
  const lengthBits = layout.windowCount === 8 ? 3 : 5;
  const escape = (1 << lengthBits) - 1;
  const books = new Uint8Array(groups.length * bandCount);
  for (let g = 0; g < groups.length; g++) {
    for (let band = 0; band < bandCount;) {
      const book = reader.read(4);
      let length = 0;
      let part = escape;
      while (part === escape && !reader.overrun) {
        part = reader.read(lengthBits);
        length += part;
      }
      if (book === 12 || band + length > bandCount || reader.overrun) {
        throw new AacSyntaxError("bad section");
      }
      books.fill(book, g * bandCount + band, g * bandCount + band + length);
      band += length;
      if (length === 0 && reader.bitsLeft <= 0) throw new AacSyntaxError("bad section");
    }
  }
  return books;
}

function readScales(reader: BitReader, books: Uint8Array, globalGain: number): Int16Array {
  const codebook = aacCodebook(0);
  const scales = new Int16Array(books.length);
  let gain = globalGain;
  let intensity = 0;
  let noise = globalGain - 90;
  let noiseSeen = false;
  for (let i = 0; i < books.length; i++) {
    const book = books[i]!;
    if (book === 0) continue;
    if (book === NOISE_BOOK && !noiseSeen) {
      noiseSeen = true;
      noise += reader.read(9) - 256;
      scales[i] = noise;
      continue;
    }
    const step = codebook.read(reader) - 60;
    if (book === NOISE_BOOK) scales[i] = noise += step;
    else if (book >= INTENSITY_BOOK_NEGATIVE) scales[i] = intensity += step;
    else scales[i] = gain += step;
    if (gain < 0 || gain > 255) throw new AacSyntaxError("scale factor out of range");
  }
  return scales;
}

function readPulses(reader: BitReader, layout: WindowLayout): Pulse[] {
  if (layout.windowCount === 8) throw new AacSyntaxError("pulses in short windows");
  const count = reader.read(2) + 1;
  let line = layout.edges[reader.read(6)] ?? 1024;
  return Array.from({ length: count }, () => {
    line += reader.read(5);
    return { line, amplitude: reader.read(4) };
  });
}
