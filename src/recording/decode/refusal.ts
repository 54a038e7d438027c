import { WasherNoiseError } from "../../foundation/errors.js";

/** What to do with a recording whose format cannot be read here. */
export const FORMAT_REMEDY = "Install ffmpeg, or send the recording as WAV or m4a (AAC-LC).";

/** A format that is known by name but cannot be decoded here. */
export function unsupported(
  name: string,
  format: string,
  facts: Record<string, unknown> = {},
): WasherNoiseError {
  return new WasherNoiseError(
    "format-unsupported",
    `${name}: ${format} cannot be decoded here. ${FORMAT_REMEDY}`,
    { file: name, format, ...facts },
  );
}

/** A recording of a known format whose content contradicts itself or ends too early. */
export function damaged(
  name: string,
  what: string,
  facts: Record<string, unknown> = {},
  cause?: unknown,
): WasherNoiseError {
  return new WasherNoiseError(
    "recording-damaged",
    `${name}: ${what}. Copy the file from the phone again, or record again.`,
    { file: name, ...facts },
    cause === undefined ? undefined : { cause },
  );
}

/** Content that is no sound recording. */
export function notAudio(name: string, found: string): WasherNoiseError {
  return new WasherNoiseError(
    "not-audio",
    `${name}: ${found}, not a sound recording. Send WAV, m4a, mp3, FLAC, Ogg, or a video with sound.`,
    { file: name, found },
  );
}

/** A recording over a limit on size or length. */
export function tooLarge(
  name: string,
  what: string,
  facts: Record<string, unknown>,
): WasherNoiseError {
  return new WasherNoiseError(
    "recording-too-large",
    `${name}: ${what}. Cut the recording to the noisy minutes, or raise the limit named.`,
    { file: name, ...facts },
  );
}
