import type { RecordingProblem } from "../../recording.js";
import { createFrameTally } from "../frame-tally.js";
import type { PacketTrack } from "../packet-track.js";
import type { PcmBlock, PcmStream } from "../pcm-stream.js";
import { damaged } from "../refusal.js";
import { withoutFirst } from "../trim.js";
import { readAdtsHeader, readAudioSpecificConfig, type AacConfig } from "./aac-config.js";
import { AAC_FRAME_SAMPLES, createAacDecoder } from "./aac-decoder.js";

// Band replication shows in every frame, so the first few tell.
const FRAMES_LOOKED_AT = 4;

/**
 * Opens a track of AAC-LC.
 *
 * High-efficiency AAC is decoded to the lower half of its band and marked `partial`. Throws
 * `format-unsupported` for other kinds of AAC, `recording-damaged` without a frame.
 */
export async function openAac(name: string, track: PacketTrack): Promise<PcmStream> {
  const { config, replicated } = await lookAhead(name, track);
  const highEfficiency = config.highEfficiency || replicated;
  const tally = createFrameTally();
  const noted = highEfficiency ? [halfBandProblem(config.sampleRateHz)] : [];
  async function* decoded(): AsyncGenerator<PcmBlock> {
    const decoder = createAacDecoder(config);
    tally.restart();
    for await (const packet of track.packets()) {
      try {
        const block = decoder.decode(frameContent(name, packet, track));
        tally.good();
        yield block;
      } catch {
        tally.bad();
        yield silence(config.channelCount);
      }
    }
    tally.finish(name);
  }
  const priming = Math.max(0, Math.round(-track.firstSeconds * config.sampleRateHz));
  return {
    codec: `${track.container}, ${highEfficiency ? "HE-AAC (lower half of the band)" : "AAC-LC"}`,
    lossy: true,
    sampleRateHz: config.sampleRateHz,
    channelCount: config.channelCount,
    claimedSeconds: track.claimedSeconds,
    get problems() {
      return [...noted, ...tally.problems()];
    },
    ...(highEfficiency ? { partial: `${track.container}, HE-AAC` } : {}),
    blocks: () => withoutFirst(decoded(), priming),
  };
}

async function lookAhead(
  name: string,
  track: PacketTrack,
): Promise<{ config: AacConfig; replicated: boolean }> {
  let config =
    track.description.length > 0 ? readAudioSpecificConfig(name, track.description) : null;
  let replicated = false;
  let looked = 0;
  for await (const packet of track.packets()) {
    config ??= readAdtsHeader(name, packet).config;
    const decoder = createAacDecoder(config);
    try {
      decoder.decode(frameContent(name, packet, track));
    } catch {
      // Counted when the recording is decoded in earnest.
    }
    replicated ||= decoder.bandReplicationSeen;
    if (++looked === FRAMES_LOOKED_AT) break;
  }
  if (config === null || looked === 0) throw damaged(name, "the recording holds no sound frame");
  return { config, replicated };
}

function frameContent(name: string, packet: Uint8Array, track: PacketTrack): Uint8Array {
  if (track.description.length > 0) return packet;
  return packet.subarray(readAdtsHeader(name, packet).headerBytes);
}

const silence = (channelCount: number): Float32Array[] =>
  Array.from({ length: channelCount }, () => new Float32Array(AAC_FRAME_SAMPLES));

function halfBandProblem(sampleRateHz: number): RecordingProblem {
  return {
    code: "lossy-codec",
    severity: "limits",
    message: `High-efficiency AAC: only the sound below ${Math.round(sampleRateHz / 200) / 10} kHz was decoded. Install ffmpeg, or set the recorder to its highest quality.`,
  };
}
