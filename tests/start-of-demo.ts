import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { readSoundFile } from "../src/recording/files/read-sound-file.js";
import { wavBytes } from "../src/synthesis/wav-bytes.js";
import { root } from "./project-root.js";

/** The demo recording, 20 s of a spin on a front loader with a belt. */
export const demo = join(root, "samples-synthetic", "demo-spin.m4a");

/** Writes the first seconds of the demo as a WAV: a machine that is heard, quicker to listen to than the whole. */
export async function writeStartOfDemo(path: string, seconds: number): Promise<void> {
  const { channels, sampleRateHz } = await readSoundFile(demo);
  writeFileSync(path, wavBytes(channels[0]!.slice(0, seconds * sampleRateHz), sampleRateHz));
}
