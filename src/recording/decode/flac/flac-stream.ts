import { BitReader } from "../bit-reader.js";
import type { ByteSource } from "../byte-source.js";
import { createFrameTally } from "../frame-tally.js";
import type { PcmBlock, PcmStream } from "../pcm-stream.js";
import { damaged, unsupported } from "../refusal.js";
import { id3Bytes } from "../sniff.js";
import { readFlacFrame, type FlacInfo } from "./flac-frame.js";

const WINDOW_BYTES = 1 << 20;
const STREAMINFO_BYTES = 34;

/** Opens a FLAC file of up to 24 bits. Throws `recording-damaged`, `format-unsupported` for 32 bits. */
export async function openFlac(source: ByteSource): Promise<PcmStream> {
  const { info, firstFrameAt } = await readMetadata(source);
  if (info.bitsPerSample > 24) throw unsupported(source.name, "FLAC of 32 bits");
  const tally = createFrameTally();
  async function* blocks(): AsyncGenerator<PcmBlock> {
    tally.restart();
    for await (const frame of frames(source, info, firstFrameAt)) {
      if (frame === null) tally.bad();
      else {
        tally.good();
        yield frame;
      }
    }
    tally.finish(source.name);
  }
  return {
    codec: `flac, ${info.bitsPerSample} bit`,
    lossy: false,
    sampleRateHz: info.sampleRateHz,
    channelCount: info.channelCount,
    claimedSeconds: info.totalSamples > 0 ? info.totalSamples / info.sampleRateHz : null,
    get problems() {
      return tally.problems();
    },
    blocks,
  };
}

async function readMetadata(source: ByteSource): Promise<{ info: FlacInfo; firstFrameAt: number }> {
  let at = id3Bytes(await source.read(0, 10)) + 4;
  let info: FlacInfo | null = null;
  for (;;) {
    const head = await source.read(at, 4 + STREAMINFO_BYTES);
    if (head.length < 4) throw damaged(source.name, "the FLAC header is cut off");
    const length = (head[1]! << 16) | (head[2]! << 8) | head[3]!;
    if ((head[0]! & 0x7f) === 0) info = readStreamInfo(head.subarray(4));
    at += 4 + length;
    if ((head[0]! & 0x80) !== 0) break;
  }
  if (info === null) throw damaged(source.name, "the FLAC file does not describe its sound");
  return { info, firstFrameAt: at };
}

// Source: RFC 9639, section 8.2.
function readStreamInfo(bytes: Uint8Array): FlacInfo {
  const reader = new BitReader(bytes);
  reader.skip(16);
  const maxBlockSamples = reader.read(16);
  reader.skip(24);
  const maxFrameBytes = reader.read(24);
  const sampleRateHz = reader.read(20);
  const channelCount = reader.read(3) + 1;
  const bitsPerSample = reader.read(5) + 1;
  const totalSamples = reader.read(4) * 2 ** 32 + reader.readLong(32);
  return {
    sampleRateHz,
    channelCount,
    bitsPerSample,
    totalSamples,
    maxBlockSamples,
    maxFrameBytes,
  };
}

// Yields null once for each place where the frames are interrupted.
async function* frames(
  source: ByteSource,
  info: FlacInfo,
  firstFrameAt: number,
): AsyncGenerator<Float32Array[] | null> {
  const largest = info.channelCount * info.maxBlockSamples * 4 + 64;
  const needed = Math.max(info.maxFrameBytes, largest);
  let window: Uint8Array = new Uint8Array(0);
  let windowAt = firstFrameAt;
  let at = 0;
  let inStep = true;
  for (;;) {
    if (window.length - at < needed && windowAt + window.length < source.sizeBytes) {
      windowAt += at;
      window = await source.read(windowAt, Math.max(WINDOW_BYTES, 2 * needed));
      at = 0;
    }
    if (at >= window.length) return;
    const frame = readFlacFrame(window, at, info);
    if (frame !== null) {
      inStep = true;
      at = frame.nextAt;
      yield frame.channels;
      continue;
    }
    // Behind the last frame there may be a tag; only a break in the middle counts as damage.
    if (inStep && !isTag(window, at)) yield null;
    inStep = false;
    const next = window.indexOf(0xff, at + 1);
    at = next < 0 ? window.length : next;
  }
}

const isTag = (window: Uint8Array, at: number): boolean =>
  window[at] === 0x54 && window[at + 1] === 0x41 && window[at + 2] === 0x47;
