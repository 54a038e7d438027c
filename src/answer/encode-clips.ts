import { flacBytes } from "../recording/encode/flac-bytes.js";
import type { Pictures, SoundClip } from "./picture-data.js";

/** A clip as it stands in a page. */
export interface EncodedClip extends Omit<SoundClip, "samples" | "sampleRateHz"> {
  readonly seconds: number;
  readonly mime: "audio/flac";
  readonly bytes: Uint8Array;
}

/** Encodes clips for a page. */
export async function encodeSounds(clips: readonly SoundClip[]): Promise<readonly EncodedClip[]> {
  const encoded: EncodedClip[] = [];
  for (const { samples, sampleRateHz, ...facts } of clips) {
    encoded.push({
      ...facts,
      seconds: samples.length / sampleRateHz,
      mime: "audio/flac",
      bytes: await flacBytes(samples, sampleRateHz),
    });
  }
  return encoded;
}

/** Encodes the clips of all recordings. Shape [recordings][clips of the recording]. */
export async function encodeClips(
  pictures: Pictures,
): Promise<readonly (readonly EncodedClip[])[]> {
  const all: (readonly EncodedClip[])[] = [];
  for (const { clips } of pictures.recordings) all.push(await encodeSounds(clips));
  return all;
}
