import { decodeAudio } from "../decode/decode-audio.js";
import type { DecodeOptions } from "../decode/decode-options.js";
import type { DecodedAudio } from "../recording.js";
import { openThroughFfmpeg, type FfmpegOptions } from "./ffmpeg.js";
import { openFileSource, sha256Of } from "./file-source.js";

/** A decoded file, and which file it was. */
export interface SoundFile extends DecodedAudio {
  /** The path as it was given. */
  readonly file: string;
  /** SHA-256 of the file, 64 hexadecimal digits. */
  readonly sha256: string;
}

/** Limits while a file is read, and the use of a system ffmpeg. */
export interface ReadSoundFileOptions extends DecodeOptions, FfmpegOptions {}

/**
 * Reads a sound file of any format, told by its content.
 *
 * WAV, m4a/mp4/mov/3gp with AAC-LC, ADTS, MP3, FLAC, Ogg and WebM are decoded in the process, block by
 * block; other formats through a system ffmpeg where there is one. At most two channels of at most
 * 48 kHz are kept, and of a recording longer than `maxKeptSeconds` its loudest stretch.
 *
 * Throws WasherNoiseError `file-unreadable`, `file-empty`, `not-audio`, `format-unsupported`,
 * `recording-damaged`, `recording-too-large`, `cancelled`, `out-of-range`.
 */
export async function readSoundFile(
  path: string,
  options: ReadSoundFileOptions = {},
): Promise<SoundFile> {
  const source = await openFileSource(path);
  try {
    const decoded = await decodeAudio(source, options, (format) =>
      openThroughFfmpeg(path, format, options),
    );
    return { ...decoded, file: path, sha256: await sha256Of(source) };
  } finally {
    await source.close();
  }
}
