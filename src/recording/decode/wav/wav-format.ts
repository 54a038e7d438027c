import type { Hertz } from "../../../foundation/units.js";
import type { ByteSource } from "../byte-source.js";
import { damaged, unsupported } from "../refusal.js";

/** How a sample is written. */
export type WavEncoding = "integer" | "float" | "mu-law" | "a-law";

export interface WavFormat {
  readonly encoding: WavEncoding;
  readonly channelCount: number;
  readonly sampleRateHz: Hertz;
  /** Bytes of one sample of one channel. */
  readonly sampleBytes: number;
}

const EXTENSIBLE = 0xfffe;
const encodings: Readonly<Record<number, WavEncoding>> = {
  1: "integer",
  3: "float",
  6: "a-law",
  7: "mu-law",
};
const widths: Readonly<Record<WavEncoding, readonly number[]>> = {
  integer: [1, 2, 3, 4],
  float: [4, 8],
  "mu-law": [1],
  "a-law": [1],
};
const otherTags: Readonly<Record<number, string>> = {
  0x0002: "Microsoft ADPCM",
  0x0011: "IMA ADPCM",
  0x0031: "GSM 6.10",
  0x0050: "MPEG layer 2",
  0x0055: "MP3 in WAV",
  0x00ff: "AAC in WAV",
};

/**
 * Reads and checks the content of a `fmt ` chunk.
 *
 * Throws `recording-damaged` where the fields contradict each other and `format-unsupported` for a
 * codec other than linear PCM, IEEE float, mu-law and A-law. Source: Microsoft, Multiple Channel Audio
 * Data and WAVE Files (WAVEFORMATEXTENSIBLE).
 */
export function readWavFormat(source: ByteSource, format: DataView): WavFormat {
  if (format.byteLength < 16) throw damaged(source.name, "the WAV header is cut off");
  const written = format.getUint16(0, true);
  const channelCount = format.getUint16(2, true);
  const sampleRateHz = format.getUint32(4, true);
  const blockBytes = format.getUint16(12, true);
  const bits = format.getUint16(14, true);
  if (channelCount === 0) throw damaged(source.name, "the WAV header claims no channel");
  const extended = written === EXTENSIBLE && format.byteLength >= 26;
  const tag = extended ? format.getUint16(24, true) : written;
  const encoding = encodings[tag];
  if (encoding === undefined) {
    const codec = otherTags[tag] ?? `codec 0x${tag.toString(16).padStart(4, "0")}`;
    throw unsupported(source.name, `WAV, ${codec}`, { tag });
  }
  const sampleBytes = Math.ceil(bits / 8);
  if (!widths[encoding].includes(sampleBytes) || blockBytes !== channelCount * sampleBytes) {
    throw damaged(
      source.name,
      `the WAV header contradicts itself (${channelCount} channels of ${bits} bits in blocks of ${blockBytes} bytes)`,
      { channelCount, bits, blockBytes },
    );
  }
  return { encoding, channelCount, sampleRateHz, sampleBytes };
}
