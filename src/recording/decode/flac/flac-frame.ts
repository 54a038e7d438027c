import { BitReader } from "../bit-reader.js";
import { crc16, crc8 } from "./crc.js";
import { readSubframe } from "./subframe.js";

/** What the stream says about all of its frames. */
export interface FlacInfo {
  readonly sampleRateHz: number;
  readonly channelCount: number;
  readonly bitsPerSample: number;
  /** Samples per channel in the whole file, 0 where not known. */
  readonly totalSamples: number;
  readonly maxBlockSamples: number;
  /** Bytes of the largest frame, 0 where not known. */
  readonly maxFrameBytes: number;
}

/** A decoded frame, and where the next one begins. */
export interface FlacFrame {
  /** Shape [channelCount][n], full scale ±1. */
  readonly channels: Float32Array[];
  readonly nextAt: number;
}

interface FrameHeader {
  readonly blockSamples: number;
  readonly assignment: number;
  readonly bitsPerSample: number;
}

const LEFT_SIDE = 8;
const SIDE_RIGHT = 9;
const MID_SIDE = 10;
const sampleSizes = [0, 8, 12, -1, 16, 20, 24, 32];

/**
 * Decodes the frame at `at`; null where none stands there whole and with the right check sums.
 *
 * Source: RFC 9639, section 9.
 */
export function readFlacFrame(bytes: Uint8Array, at: number, info: FlacInfo): FlacFrame | null {
  if (bytes[at] !== 0xff || (bytes[at + 1]! & 0xfe) !== 0xf8) return null;
  const reader = new BitReader(bytes);
  reader.position = 8 * at;
  const header = readHeader(reader, bytes, at, info);
  if (header === null) return null;
  const stereo = header.assignment >= LEFT_SIDE;
  const subframes: Float64Array[] = [];
  for (let c = 0; c < info.channelCount; c++) {
    const isSide = stereo && c === (header.assignment === SIDE_RIGHT ? 0 : 1);
    const bits = header.bitsPerSample + (isSide ? 1 : 0);
    const samples = readSubframe(reader, header.blockSamples, bits);
    if (samples === null || reader.overrun) return null;
    subframes.push(samples);
  }
  reader.alignToByte();
  const end = reader.position >> 3;
  if (end + 2 > bytes.length || crc16(bytes, at, end) !== reader.read(16)) return null;
  if (stereo) undoStereo(subframes[0]!, subframes[1]!, header.assignment);
  const scale = 2 ** (1 - header.bitsPerSample);
  return { channels: subframes.map((samples) => scaled(samples, scale)), nextAt: end + 2 };
}

function scaled(samples: Float64Array, scale: number): Float32Array {
  const out = new Float32Array(samples.length);
  for (let i = 0; i < out.length; i++) out[i] = samples[i]! * scale;
  return out;
}

function readHeader(
  reader: BitReader,
  bytes: Uint8Array,
  at: number,
  info: FlacInfo,
): FrameHeader | null {
  reader.skip(16);
  const sizeCode = reader.read(4);
  const rateCode = reader.read(4);
  const assignment = reader.read(4);
  const sampleSize = sampleSizes[reader.read(3)]!;
  reader.skip(1);
  skipCodedNumber(reader);
  const blockSamples = readBlockSamples(reader, sizeCode);
  if (rateCode >= 12) reader.skip(rateCode === 12 ? 8 : 16);
  const end = reader.position >> 3;
  if (reader.overrun || crc8(bytes, at, end) !== reader.read(8)) return null;
  const channelCount = assignment >= LEFT_SIDE ? 2 : assignment + 1;
  const bitsPerSample = sampleSize === 0 ? info.bitsPerSample : sampleSize;
  if (assignment > MID_SIDE || channelCount !== info.channelCount) return null;
  if (bitsPerSample < 4 || bitsPerSample > 24) return null;
  return { blockSamples, assignment, bitsPerSample };
}

// The frame or sample number, coded like a UTF-8 character.
function skipCodedNumber(reader: BitReader): void {
  const leadingOnes = Math.clz32(~(reader.read(8) << 24));
  if (leadingOnes > 1) reader.skip(8 * (leadingOnes - 1));
}

function readBlockSamples(reader: BitReader, code: number): number {
  if (code === 1) return 192;
  if (code <= 5) return 144 << code;
  if (code === 6) return reader.read(8) + 1;
  if (code === 7) return reader.read(16) + 1;
  return 1 << code;
}

function undoStereo(first: Float64Array, second: Float64Array, assignment: number): void {
  for (let i = 0; i < first.length; i++) {
    const a = first[i]!;
    const b = second[i]!;
    if (assignment === LEFT_SIDE) second[i] = a - b;
    else if (assignment === SIDE_RIGHT) first[i] = a + b;
    else {
      const right = a - Math.floor(b / 2);
      first[i] = right + b;
      second[i] = right;
    }
  }
}
