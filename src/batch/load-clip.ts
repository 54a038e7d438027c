import { assessRecording } from "../recording/assess.js";
import { readSoundFile, type ReadSoundFileOptions } from "../recording/files/read-sound-file.js";
import type { Recording } from "../recording/recording.js";

/** A sound file, decoded and judged. */
export interface LoadedClip {
  readonly file: string;
  readonly sha256: string;
  readonly recording: Recording;
}

/** Reads and judges one sound file. Throws WasherNoiseError as `readSoundFile` does. */
export async function loadClip(
  path: string,
  options: ReadSoundFileOptions = {},
): Promise<LoadedClip> {
  const sound = await readSoundFile(path, options);
  return { file: path, sha256: sound.sha256, recording: assessRecording(sound) };
}
