import { BitReader } from "./bit-reader.js";

/** What an MPEG audio frame header and a Xing or Info tag in its frame say. */
export interface MpegHeader {
  readonly layer: 1 | 2 | 3;
  readonly sampleRateHz: number;
  readonly channelCount: 1 | 2;
  readonly samplesPerFrame: number;
  readonly bitsPerSecond: number;
  /** Frames in the whole file, where a Xing or Info tag tells. */
  readonly frameCount: number | null;
}

const rates = [44_100, 48_000, 32_000];
// kbit/s for bitrate index 1 to 14. Source: ISO/IEC 11172-3, 2.4.2.3; ISO/IEC 13818-3, 2.4.2.3.
const bitrates: Readonly<Record<string, readonly number[]>> = {
  "1-1": [32, 64, 96, 128, 160, 192, 224, 256, 288, 320, 352, 384, 416, 448],
  "1-2": [32, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320, 384],
  "1-3": [32, 40, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320],
  "2-1": [32, 48, 56, 64, 80, 96, 112, 128, 144, 160, 176, 192, 224, 256],
  "2-2": [8, 16, 24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160],
  "2-3": [8, 16, 24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160],
};

/** Reads the frame header at the start of `bytes`; null where none stands there. */
export function readMpegHeader(bytes: Uint8Array): MpegHeader | null {
  const reader = new BitReader(bytes);
  if (reader.read(11) !== 0x7ff) return null;
  const version = reader.read(2);
  const layer = 4 - reader.read(2);
  reader.skip(1);
  const bitrateIndex = reader.read(4);
  const rateIndex = reader.read(2);
  reader.skip(2);
  const mono = reader.read(2) === 3;
  if (version === 1 || layer === 4 || bitrateIndex === 15 || rateIndex === 3) return null;
  const first = version === 3;
  const kilobits = bitrates[`${first ? 1 : 2}-${layer}`]![bitrateIndex - 1] ?? 0;
  return {
    layer: layer as 1 | 2 | 3,
    sampleRateHz: rates[rateIndex]! / (first ? 1 : version === 2 ? 2 : 4),
    channelCount: mono ? 1 : 2,
    samplesPerFrame: samplesPerFrame(layer, first),
    bitsPerSecond: kilobits * 1000,
    frameCount: layer === 3 ? taggedFrameCount(bytes, sideInfoBytes(first, mono)) : null,
  };
}

function samplesPerFrame(layer: number, first: boolean): number {
  if (layer === 1) return 384;
  return layer === 3 && !first ? 576 : 1152;
}

function sideInfoBytes(first: boolean, mono: boolean): number {
  if (first) return mono ? 17 : 32;
  return mono ? 9 : 17;
}

function taggedFrameCount(bytes: Uint8Array, sideInfo: number): number | null {
  const at = 4 + sideInfo;
  const tag = String.fromCharCode(...bytes.subarray(at, at + 4));
  if (tag !== "Xing" && tag !== "Info") return null;
  const reader = new BitReader(bytes.subarray(at + 4));
  const holdsFrames = (reader.readLong(32) & 1) === 1;
  return holdsFrames ? reader.readLong(32) : null;
}
