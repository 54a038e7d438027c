import { aLawTable, muLawTable } from "./companding.js";
import type { WavFormat } from "./wav-format.js";

/** Turns the bytes of whole sample frames into channels, full scale ±1. */
export type WavConverter = (bytes: Uint8Array) => Float32Array[];

const CANONICAL_HEADER_BYTES = 44;

/**
 * The converter for a format. Integers are divided by 2^(bits-1), so that the lowest code is -1.
 *
 * 16 and 32 bits go through wav-decoder. It reads the lowest 24-bit code as +1 and silence in 8 bits as
 * an offset of 1/255, so those two, 64-bit floats and the companded codes are read here.
 */
export async function wavConverter(format: WavFormat): Promise<WavConverter> {
  const { encoding, channelCount, sampleBytes } = format;
  if (encoding === "mu-law") return tableConverter(muLawTable(), channelCount);
  if (encoding === "a-law") return tableConverter(aLawTable(), channelCount);
  if (sampleBytes === 1) {
    const table = Float32Array.from({ length: 256 }, (_, code) => (code - 128) / 128);
    return tableConverter(table, channelCount);
  }
  if (sampleBytes === 3) return (bytes) => convert24(bytes, channelCount);
  if (sampleBytes === 8) return (bytes) => convertDouble(bytes, channelCount);
  const { default: wavDecoder } = await import("wav-decoder");
  return (bytes) =>
    wavDecoder.decode.sync(canonicalFile(format, bytes), { symmetric: true }).channelData;
}

function emptyChannels(channelCount: number, frames: number): Float32Array[] {
  return Array.from({ length: channelCount }, () => new Float32Array(frames));
}

function tableConverter(table: Float32Array, channelCount: number): WavConverter {
  return (bytes) => {
    const frames = Math.floor(bytes.length / channelCount);
    const channels = emptyChannels(channelCount, frames);
    channels.forEach((channel, c) => {
      for (let i = 0, at = c; i < frames; i++, at += channelCount) channel[i] = table[bytes[at]!]!;
    });
    return channels;
  };
}

function convert24(bytes: Uint8Array, channelCount: number): Float32Array[] {
  const step = 3 * channelCount;
  const frames = Math.floor(bytes.length / step);
  const channels = emptyChannels(channelCount, frames);
  channels.forEach((channel, c) => {
    for (let i = 0, at = 3 * c; i < frames; i++, at += step) {
      const high = (bytes[at + 2]! << 24) | (bytes[at + 1]! << 16) | (bytes[at]! << 8);
      channel[i] = high / 2147483648;
    }
  });
  return channels;
}

function convertDouble(bytes: Uint8Array, channelCount: number): Float32Array[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const step = 8 * channelCount;
  const frames = Math.floor(bytes.length / step);
  const channels = emptyChannels(channelCount, frames);
  channels.forEach((channel, c) => {
    for (let i = 0, at = 8 * c; i < frames; i++, at += step) {
      channel[i] = view.getFloat64(at, true);
    }
  });
  return channels;
}

// A header that leaves wav-decoder nothing to guess, followed by the samples.
function canonicalFile(format: WavFormat, samples: Uint8Array): ArrayBuffer {
  const { channelCount, sampleRateHz, sampleBytes } = format;
  const file = new ArrayBuffer(CANONICAL_HEADER_BYTES + samples.length);
  const view = new DataView(file);
  const id = (at: number, text: string): void => {
    for (let i = 0; i < 4; i++) view.setUint8(at + i, text.charCodeAt(i));
  };
  id(0, "RIFF");
  view.setUint32(4, 36 + samples.length, true);
  id(8, "WAVE");
  id(12, "fmt ");
  view.setUint32(16, 16, true);
  view.setUint16(20, format.encoding === "float" ? 3 : 1, true);
  view.setUint16(22, channelCount, true);
  view.setUint32(24, sampleRateHz, true);
  view.setUint32(28, sampleRateHz * channelCount * sampleBytes, true);
  view.setUint16(32, channelCount * sampleBytes, true);
  view.setUint16(34, 8 * sampleBytes, true);
  id(36, "data");
  view.setUint32(40, samples.length, true);
  new Uint8Array(file, CANONICAL_HEADER_BYTES).set(samples);
  return file;
}
