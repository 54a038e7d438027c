import type { BitReader } from "../bit-reader.js";
import { NOISE_BOOK, type WindowLayout } from "./frame.js";
import { aacCodebook, type AacCodebook } from "./huffman.js";
import { AacSyntaxError } from "./syntax-error.js";

/** A line that is made larger after decoding. */
export interface Pulse {
  readonly line: number;
  readonly amplitude: number;
}

export interface SpectrumPart {
  readonly layout: WindowLayout;
  readonly books: Uint8Array;
  readonly scales: Int16Array;
  readonly pulses: readonly Pulse[];
}

const ESCAPE_BOOK = 11;
const ESCAPE = 16;
const power43 = Float64Array.from({ length: 8208 }, (_, q) => q ** (4 / 3));
// 2^((s - 100) / 4) for s = 0..255.
const gains = Float64Array.from({ length: 256 }, (_, s) => 2 ** ((s - 100) / 4));
const quantised = new Int32Array(1024);

/**
 * Reads `spectral_data`, undoes the quantiser and applies the scale factors:
 * x = sign(q) |q|^(4/3) 2^((scale - 100)/4). Noise and intensity bands stay zero.
 */
export function readSpectrum(reader: BitReader, part: SpectrumPart, spectrum: Float64Array): void {
  const { layout, books } = part;
  const { edges, bandCount, windowLines } = layout;
  quantised.fill(0);
  let firstWindow = 0;
  layout.groups.forEach((windows, g) => {
    for (let band = 0; band < bandCount; band++) {
      const book = books[g * bandCount + band]!;
      if (book === 0 || book >= NOISE_BOOK) continue;
      const codebook = aacCodebook(book);
      for (let w = 0; w < windows; w++) {
        const base = (firstWindow + w) * windowLines;
        readLines(reader, codebook, base + edges[band]!, base + edges[band + 1]!);
      }
      if (reader.overrun) throw new AacSyntaxError("frame too short");
    }
    firstWindow += windows;
  });
  for (const { line, amplitude } of part.pulses) {
    if (line < 1024) quantised[line]! += quantised[line]! > 0 ? amplitude : -amplitude;
  }
  dequantise(part, spectrum);
}

function readLines(reader: BitReader, codebook: AacCodebook, from: number, to: number): void {
  const { dimension, values, signsFollow } = codebook;
  const mayEscape = codebook === aacCodebook(ESCAPE_BOOK);
  for (let line = from; line < to; line += dimension) {
    const at = codebook.read(reader) * dimension;
    for (let d = 0; d < dimension; d++) {
      const value = values[at + d]!;
      quantised[line + d] = value !== 0 && signsFollow && reader.read(1) === 1 ? -value : value;
    }
    if (!mayEscape) continue;
    for (let d = 0; d < dimension; d++) {
      const value = quantised[line + d]!;
      if (value === ESCAPE) quantised[line + d] = readEscape(reader);
      else if (value === -ESCAPE) quantised[line + d] = -readEscape(reader);
    }
  }
}

function readEscape(reader: BitReader): number {
  let bits = 4;
  while (reader.read(1) === 1) if (++bits > 12) throw new AacSyntaxError("value too large");
  return (1 << bits) + reader.read(bits);
}

function dequantise(part: SpectrumPart, spectrum: Float64Array): void {
  const { layout, books, scales } = part;
  const { edges, bandCount, windowLines } = layout;
  spectrum.fill(0);
  let firstWindow = 0;
  layout.groups.forEach((windows, g) => {
    for (let band = 0; band < bandCount; band++) {
      const i = g * bandCount + band;
      if (books[i] === 0 || books[i]! >= NOISE_BOOK) continue;
      const gain = gains[scales[i]!]!;
      for (let w = 0; w < windows; w++) {
        const base = (firstWindow + w) * windowLines;
        for (let k = base + edges[band]!; k < base + edges[band + 1]!; k++) {
          const q = quantised[k]!;
          if (q !== 0) spectrum[k] = q > 0 ? power43[q]! * gain : -power43[-q]! * gain;
        }
      }
    }
    firstWindow += windows;
  });
}
