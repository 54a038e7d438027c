import { pieces, type ByteSource } from "./byte-source.js";
import { createFrameTally } from "./frame-tally.js";
import { readMpegHeader, type MpegHeader } from "./mpeg-header.js";
import type { PcmBlock, PcmStream } from "./pcm-stream.js";
import { quietly } from "./quietly.js";
import { damaged } from "./refusal.js";
import { id3Bytes } from "./sniff.js";

const LOOKED_THROUGH_BYTES = 1 << 16;

interface FirstFrame {
  readonly header: MpegHeader;
  readonly at: number;
}

// Two headers that agree, one frame apart, are a stream; one alone may be chance.
async function findFirstFrame(source: ByteSource): Promise<FirstFrame> {
  const start = id3Bytes(await source.read(0, 10));
  const bytes = await source.read(start, LOOKED_THROUGH_BYTES);
  for (let at = 0; at + 4 <= bytes.length; at++) {
    if (bytes[at] !== 0xff) continue;
    const header = readMpegHeader(bytes.subarray(at, at + 256));
    if (header === null) continue;
    const next = at + frameBytes(header, bytes[at + 2]!);
    const following = readMpegHeader(bytes.subarray(next, next + 256));
    const agrees = following?.sampleRateHz === header.sampleRateHz;
    if (agrees || header.bitsPerSecond === 0 || next >= bytes.length) {
      return { header, at: start + at };
    }
  }
  throw damaged(source.name, "no MP3 frame was found in it");
}

function frameBytes(header: MpegHeader, third: number): number {
  const slot = header.layer === 1 ? 4 : 1;
  const exact = (header.samplesPerFrame * header.bitsPerSecond) / 8 / header.sampleRateHz;
  return slot * (Math.floor(exact / slot) + ((third >> 1) & 1));
}

/**
 * Opens an MP3 (or MPEG layer 1 or 2) file. Start-up and padding are left out as its LAME tag tells.
 *
 * Throws `recording-damaged` where no frame is found, or more frames fail than succeed.
 */
export async function openMp3(source: ByteSource): Promise<PcmStream> {
  const { header, at } = await findFirstFrame(source);
  const { MPEGDecoder } = await import("mpg123-decoder");
  const tally = createFrameTally();
  async function* blocks(): AsyncGenerator<PcmBlock> {
    const decoder = new MPEGDecoder({ enableGapless: true });
    await decoder.ready;
    tally.restart();
    try {
      for await (const piece of pieces(source, at)) {
        const { channelData, samplesDecoded, errors } = quietly(() => decoder.decode(piece));
        tally.bad(errors.length);
        if (samplesDecoded === 0) continue;
        tally.good(Math.ceil(samplesDecoded / header.samplesPerFrame));
        yield channelData
          .slice(0, header.channelCount)
          .map((channel) => channel.subarray(0, samplesDecoded));
      }
    } finally {
      decoder.free();
    }
    tally.finish(source.name);
  }
  const claimed = header.frameCount;
  const rough = (8 * (source.sizeBytes - at)) / (header.bitsPerSecond || 64_000);
  return {
    codec: header.layer === 3 ? "mp3" : `MPEG audio layer ${header.layer}`,
    lossy: true,
    sampleRateHz: header.sampleRateHz,
    channelCount: header.channelCount,
    claimedSeconds:
      claimed === null ? null : (claimed * header.samplesPerFrame) / header.sampleRateHz,
    roughSeconds: rough,
    get problems() {
      return tally.problems();
    },
    blocks,
  };
}
