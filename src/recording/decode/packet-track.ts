import type { Input, InputAudioTrack, InputFormat } from "mediabunny";
import type { Seconds } from "../../foundation/units.js";
import { WasherNoiseError } from "../../foundation/errors.js";
import type { ByteSource } from "./byte-source.js";
import { guardFragments } from "./fragment-guard.js";
import { guardReads, type ReadGuard } from "./read-guard.js";
import { damaged, notAudio, unsupported } from "./refusal.js";

export type ContainerKind = "mp4" | "adts" | "ogg" | "matroska";

/** The sound of a container, still compressed. */
export interface PacketTrack {
  /** The container in plain words, such as "m4a". */
  readonly container: string;
  readonly codec: string;
  readonly channelCount: number;
  readonly sampleRateHz: number;
  /** What the codec needs to start, empty where it needs nothing. */
  readonly description: Uint8Array;
  readonly claimedSeconds: Seconds | null;
  /** When the first packet is to be heard; negative where samples are to be dropped. */
  readonly firstSeconds: Seconds;
  /** Packets in order, from the first on. Ends early where the file is cut off. */
  packets(): AsyncGenerator<Uint8Array>;
}

const CACHE_BYTES = 4 * 1024 * 1024;

/**
 * Opens the first sound track of a container.
 *
 * Throws `not-audio` without a sound track, `format-unsupported` for a container layout that the demuxer
 * refuses, `recording-damaged` where the index is missing or broken.
 */
export async function openPacketTrack(
  source: ByteSource,
  kind: ContainerKind,
): Promise<PacketTrack> {
  const media = await import("mediabunny");
  // What matters is told through errors and problems; a library does not write to the console.
  media.Logging.level = media.LogLevel.Silent;
  const formats: Record<ContainerKind, InputFormat[]> = {
    mp4: [media.MP4, media.QTFF],
    adts: [media.ADTS],
    ogg: [media.OGG],
    matroska: [media.MATROSKA, media.WEBM],
  };
  const plain = (start: number, length: number): Promise<Uint8Array> | Uint8Array =>
    source.read(start, length);
  const read =
    kind === "mp4" ? guardFragments(async (...range) => plain(...range), source.sizeBytes) : plain;
  const bytes = new media.CustomSource({
    getSize: () => source.sizeBytes,
    read: (start, end) => read(start, end - start),
    maxCacheSize: CACHE_BYTES,
    prefetchProfile: "fileSystem",
  });
  const guard = guardReads(bytes);
  const input = new media.Input({ formats: formats[kind], source: bytes });
  try {
    const track = await input.getPrimaryAudioTrack();
    if (track === null) throw await withoutSound(source, input);
    return await describe({ source, kind, input, guard }, track);
  } catch (error) {
    if (error instanceof WasherNoiseError) throw error;
    if (error instanceof media.UnsupportedInputFormatError) {
      throw unsupported(source.name, `this kind of ${kind}`);
    }
    throw damaged(source.name, "the index of the recording is missing or broken", {}, error);
  }
}

async function withoutSound(source: ByteSource, input: Input): Promise<WasherNoiseError> {
  const tracks = await input.getTracks();
  if (tracks.length > 0) return notAudio(source.name, "this is a video without sound");
  return damaged(source.name, "the recording was cut off before its index was written");
}

interface OpenInput {
  readonly source: ByteSource;
  readonly kind: ContainerKind;
  readonly input: Input;
  readonly guard: ReadGuard;
}

async function describe(
  { source, kind, input, guard }: OpenInput,
  track: InputAudioTrack,
): Promise<PacketTrack> {
  const { EncodedPacketSink } = await import("mediabunny");
  const config = await track.getDecoderConfig();
  const codec = (await track.getCodec()) ?? unnamedCodec(track);
  const container = await containerName(source, kind, input);
  const description = config?.description;
  return {
    container,
    codec,
    channelCount: track.numberOfChannels,
    sampleRateHz: track.sampleRate,
    description: description === undefined ? new Uint8Array(0) : toBytes(description),
    claimedSeconds: await claimedSeconds(track),
    firstSeconds: await track.getFirstTimestamp(),
    packets: async function* () {
      const sink = new EncodedPacketSink(track);
      let count = 0;
      try {
        for await (const packet of sink.packets()) {
          count++;
          guard.progress();
          yield packet.data;
        }
      } catch (error) {
        if (error instanceof WasherNoiseError) throw error;
        // What came before a break is still worth hearing; the length check tells of the rest.
        if (count === 0) throw damaged(source.name, "its sound cannot be read", {}, error);
      }
    },
  };
}

const toBytes = (data: ArrayBufferLike | ArrayBufferView): Uint8Array =>
  ArrayBuffer.isView(data)
    ? new Uint8Array(data.buffer, data.byteOffset, data.byteLength)
    : new Uint8Array(data);

function unnamedCodec(track: InputAudioTrack): string {
  const id = track.internalCodecId;
  return typeof id === "string" || typeof id === "number" ? String(id).trim() : "unknown codec";
}

async function claimedSeconds(track: InputAudioTrack): Promise<Seconds | null> {
  const seconds = await track.getDurationFromMetadata();
  return seconds !== null && Number.isFinite(seconds) && seconds > 0 ? seconds : null;
}

async function containerName(
  source: ByteSource,
  kind: ContainerKind,
  input: Input,
): Promise<string> {
  if (kind === "adts" || kind === "ogg") return kind;
  const tracks = await input.getTracks();
  const video = tracks.some((track) => track.isVideoTrack());
  if (kind === "matroska") {
    const head = String.fromCharCode(...(await source.read(0, 64)));
    return head.includes("webm") ? "webm" : "mkv";
  }
  const brand = String.fromCharCode(...(await source.read(8, 4)));
  if (brand.startsWith("qt")) return "mov";
  if (brand.startsWith("3g")) return "3gp";
  return video ? "mp4" : "m4a";
}
