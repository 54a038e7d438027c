import { createFrameTally } from "../frame-tally.js";
import type { PacketTrack } from "../packet-track.js";
import type { PcmBlock, PcmStream } from "../pcm-stream.js";
import { damaged, unsupported } from "../refusal.js";
import { readSetup, type VorbisSetup } from "./setup.js";
import { VorbisSyntaxError } from "./syntax-error.js";
import { createVorbisDecoder } from "./vorbis-decoder.js";

/** Opens a track of Vorbis. Throws `recording-damaged`, `format-unsupported` for floors of type 0. */
export function openVorbis(name: string, track: PacketTrack): PcmStream {
  const setup = readSetupOrRefuse(name, track);
  const tally = createFrameTally();
  async function* blocks(): AsyncGenerator<PcmBlock> {
    const decoder = createVorbisDecoder(setup);
    tally.restart();
    for await (const packet of track.packets()) {
      try {
        const block = decoder.decode(packet);
        tally.good();
        if (block[0]!.length > 0) yield block;
      } catch (error) {
        if (!(error instanceof VorbisSyntaxError)) throw error;
        tally.bad();
      }
    }
    tally.finish(name);
  }
  return {
    codec: `${track.container}, vorbis`,
    lossy: true,
    sampleRateHz: setup.identity.sampleRateHz,
    channelCount: setup.identity.channelCount,
    claimedSeconds: track.claimedSeconds,
    get problems() {
      return tally.problems();
    },
    blocks,
  };
}

function readSetupOrRefuse(name: string, track: PacketTrack): VorbisSetup {
  try {
    return readSetup(track.description);
  } catch (error) {
    if (!(error instanceof VorbisSyntaxError)) throw error;
    if (error.message.startsWith("floor of another type")) {
      throw unsupported(name, `${track.container}, Vorbis with floors of type 0`);
    }
    throw damaged(name, "the header of the Vorbis sound is broken", {}, error);
  }
}
