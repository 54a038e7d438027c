import { createFrameTally } from "./frame-tally.js";
import type { PacketTrack } from "./packet-track.js";
import type { PcmBlock, PcmStream } from "./pcm-stream.js";
import { quietly } from "./quietly.js";
import { unsupported } from "./refusal.js";
import { withoutFirst } from "./trim.js";

const OPUS_RATE_HZ = 48_000;
const PACKETS_AT_A_TIME = 50;
// What the decoder makes room for: 120 ms at 256 kbit/s. A larger packet would be written past it.
const MOST_BYTES_PER_CHANNEL = 3840;

interface OpusHead {
  readonly channelCount: number;
  readonly preSkip: number;
}

// Source: RFC 7845, section 5.1.
function readHead(name: string, description: Uint8Array, channelCount: number): OpusHead {
  if (description.length < 19) return { channelCount, preSkip: 0 };
  if (description[18] !== 0) throw unsupported(name, "Opus with more than two channels");
  return { channelCount: description[9]!, preSkip: description[10]! | (description[11]! << 8) };
}

/** Opens a track of Opus, mono or stereo, always at 48 kHz. Throws `format-unsupported` for more channels. */
export async function openOpus(name: string, track: PacketTrack): Promise<PcmStream> {
  const { OpusDecoder } = await import("opus-decoder");
  const head = readHead(name, track.description, track.channelCount);
  const channelCount = head.channelCount === 1 ? 1 : 2;
  const tally = createFrameTally();
  async function* decoded(): AsyncGenerator<PcmBlock> {
    const decoder = new OpusDecoder({
      channels: channelCount,
      streamCount: 1,
      coupledStreamCount: channelCount - 1,
      channelMappingTable: channelCount === 1 ? [0] : [0, 1],
    });
    await decoder.ready;
    tally.restart();
    const decodeAll = (packets: Uint8Array[]): PcmBlock => {
      const { channelData, samplesDecoded, errors } = quietly(() => decoder.decodeFrames(packets));
      tally.good(packets.length - errors.length);
      tally.bad(errors.length);
      return channelData.map((channel) => channel.subarray(0, samplesDecoded));
    };
    try {
      let waiting: Uint8Array[] = [];
      for await (const packet of track.packets()) {
        if (packet.length > MOST_BYTES_PER_CHANNEL * channelCount) {
          tally.bad();
          continue;
        }
        waiting.push(packet);
        if (waiting.length < PACKETS_AT_A_TIME) continue;
        yield decodeAll(waiting);
        waiting = [];
      }
      if (waiting.length > 0) yield decodeAll(waiting);
    } finally {
      decoder.free();
    }
    tally.finish(name);
  }
  return {
    codec: `${track.container}, opus`,
    lossy: true,
    sampleRateHz: OPUS_RATE_HZ,
    channelCount,
    claimedSeconds: track.claimedSeconds,
    get problems() {
      return tally.problems();
    },
    blocks: () => withoutFirst(decoded(), head.preSkip),
  };
}
