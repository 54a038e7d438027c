import { WasherNoiseError } from "../../foundation/errors.js";
import type { DecodedAudio } from "../recording.js";
import type { ByteSource } from "./byte-source.js";
import { resolveDecodeOptions, type DecodeOptions } from "./decode-options.js";
import { keepSamples } from "./keep-samples.js";
import type { PcmStream } from "./pcm-stream.js";
import { damaged, notAudio, tooLarge, unsupported } from "./refusal.js";
import { checkShape } from "./shape.js";
import { id3Bytes, sniff, type Sniffed } from "./sniff.js";

/**
 * A decoder from outside, asked when none in this library knows the format.
 *
 * @param format what is known about the format, for messages
 * @returns null where no such decoder is at hand
 */
export type OutsideDecoder = (format: string) => Promise<PcmStream | null>;

const HEAD_BYTES = 4096;
const MIB = 1024 * 1024;

/**
 * Decodes a recording of any known format: content → format → blocks of samples → the stretch kept.
 *
 * Reads WAV, RF64, m4a/mp4/mov/3gp with AAC-LC, ADTS, MP3, FLAC, Ogg and WebM with Opus or Vorbis; other
 * formats go to `outside`. Keeps at most two channels, at most 48 kHz, at most `maxKeptSeconds`.
 * Throws WasherNoiseError `file-empty`, `not-audio`, `format-unsupported`, `recording-damaged`,
 * `recording-too-large`, `cancelled`, `out-of-range`.
 */
export async function decodeAudio(
  source: ByteSource,
  options: DecodeOptions = {},
  outside: OutsideDecoder = () => Promise.resolve(null),
): Promise<DecodedAudio> {
  const limits = resolveDecodeOptions(options);
  checkSize(source, limits.maxBytes);
  try {
    const stream = await openStream(source, outside);
    checkShape(source.name, stream, limits);
    return await keepSamples(source, stream, limits);
  } catch (error) {
    if (error instanceof WasherNoiseError) throw error;
    // A decoder from a package stumbled over what its format does not allow.
    throw damaged(source.name, "its sound cannot be decoded", {}, error);
  }
}

function checkSize(source: ByteSource, maxBytes: number): void {
  if (source.sizeBytes === 0) {
    throw new WasherNoiseError(
      "file-empty",
      `${source.name}: the file is empty. Copy it from the phone again.`,
      { file: source.name },
    );
  }
  if (source.sizeBytes > maxBytes) {
    const inMib = (bytes: number): string => (bytes / MIB).toFixed(bytes < 10 * MIB ? 2 : 0);
    const size = `it has ${inMib(source.sizeBytes)} MiB, at most ${inMib(maxBytes)} MiB (maxBytes, --max-megabytes) are accepted`;
    throw tooLarge(source.name, size, { sizeBytes: source.sizeBytes, maxBytes });
  }
}

async function sniffSource(source: ByteSource): Promise<Sniffed> {
  const head = await source.read(0, HEAD_BYTES);
  const tag = id3Bytes(head);
  return tag === 0 ? sniff(head) : sniff(head, await source.read(tag, HEAD_BYTES));
}

async function openStream(source: ByteSource, outside: OutsideDecoder): Promise<PcmStream> {
  const found = await sniffSource(source);
  if (found.kind === "not-audio") throw notAudio(source.name, `this is ${found.name}`);
  if (found.kind === "unknown") {
    const stream = await outside("unknown format");
    if (stream === null) throw notAudio(source.name, "the content is of no known sound format");
    return stream;
  }
  if (found.kind === "foreign") {
    const stream = await outside(found.name);
    if (stream === null) throw unsupported(source.name, found.name);
    return stream;
  }
  try {
    const stream = await openKnown(source, found.kind);
    return (stream.partial === undefined ? null : await outside(stream.partial)) ?? stream;
  } catch (error) {
    if (!(error instanceof WasherNoiseError) || error.code !== "format-unsupported") throw error;
    const stream = await outside(String(error.facts["format"]));
    if (stream === null) throw error;
    return stream;
  }
}

type KnownKind = Exclude<Sniffed["kind"], "foreign" | "not-audio" | "unknown">;

// Each format loads its own decoder, so that a program that reads none of them starts quickly.
async function openKnown(source: ByteSource, kind: KnownKind): Promise<PcmStream> {
  switch (kind) {
    case "wav":
      return (await import("./wav/wav-stream.js")).openWav(source);
    case "flac":
      return (await import("./flac/flac-stream.js")).openFlac(source);
    case "mp3":
      return (await import("./mp3-stream.js")).openMp3(source);
    case "mp4":
    case "adts":
    case "ogg":
    case "matroska":
      return (await import("./container-stream.js")).openContainer(source, kind);
  }
}
