import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import {
  buildWav,
  floatCodes,
  integerCodes,
  type WavRecipe,
} from "../recording/fixtures/wav-builder.js";

/** A whole file to be damaged. */
export interface SeedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

const RATE_HZ = 16_000;
const tone = Array.from(
  { length: RATE_HZ },
  (_, i) => 0.4 * Math.sin((2 * Math.PI * 120 * i) / RATE_HZ) + 0.1 * Math.sin(i * i * 1e-4),
);
const whole = (bits: number): number[] => tone.map((x) => Math.round(x * (2 ** (bits - 1) - 1)));
const mono = { channelCount: 1, sampleRateHz: RATE_HZ };
const short = tone.slice(0, 4000);

/** One WAV of each kind that the reader knows, and of some that it does not. */
const wavRecipes: Readonly<Record<string, WavRecipe>> = {
  "u8.wav": { ...mono, tag: 1, bits: 8, data: integerCodes(whole(7), 1) },
  "s16.wav": { ...mono, tag: 1, bits: 16, data: integerCodes(whole(16), 2) },
  "s24.wav": { ...mono, tag: 1, bits: 24, data: integerCodes(whole(24), 3), extensible: true },
  "s32.wav": { ...mono, tag: 1, bits: 32, channelCount: 2, data: integerCodes(whole(32), 4) },
  "f32.wav": { ...mono, tag: 3, bits: 32, data: floatCodes(tone, 4), extensible: true },
  "f64.wav": { ...mono, tag: 3, bits: 64, data: floatCodes(short, 8) },
  "a-law.wav": { ...mono, tag: 6, bits: 8, data: integerCodes(whole(7), 1) },
  "mu-law.wav": { ...mono, tag: 7, bits: 8, data: integerCodes(whole(7), 1) },
  "rf64.wav": { ...mono, tag: 1, bits: 16, data: integerCodes(whole(16), 2), rf64: true },
  "chunks.wav": {
    ...mono,
    tag: 1,
    bits: 16,
    data: integerCodes(whole(16), 2),
    before: [
      ["LIST", new Uint8Array(27)],
      ["JUNK", new Uint8Array(600)],
    ],
  },
};

const FIXTURES = "tests/recording/fixtures";
const isSound = (name: string): boolean =>
  /\.(m4a|mov|3gp|adts|ogg|webm|flac|mp3|mp4|caf|amr)$/.test(name);

/** More containers and codecs, for a machine that has ffmpeg: file name and how it is encoded. */
const encodings: readonly (readonly [name: string, ...options: string[]])[] = [
  [
    "fragments.mp4",
    "-c:a",
    "aac",
    "-movflags",
    "frag_keyframe+empty_moov",
    "-frag_duration",
    "200000",
  ],
  ["alac.m4a", "-c:a", "alac"],
  ["low.mp3", "-ar", "16000", "-ac", "1", "-c:a", "libmp3lame", "-b:a", "24k"],
  ["layer2.mp2", "-c:a", "mp2", "-b:a", "128k"],
  ["mono24.flac", "-ac", "1", "-c:a", "flac", "-sample_fmt", "s32", "-bits_per_raw_sample", "24"],
  ["frames.oga", "-c:a", "flac", "-f", "ogg"],
  ["vorbis.webm", "-ac", "1", "-c:a", "libvorbis"],
  ["vorbis.mka", "-c:a", "libvorbis"],
  ["pcm.mka", "-c:a", "pcm_s16le", "-t", "0.5"],
  ["pcm.mov", "-c:a", "pcm_s16be", "-t", "0.5"],
  ["mono.opus", "-ac", "1", "-c:a", "libopus", "-b:a", "16k"],
  ["aac.ts", "-c:a", "aac", "-f", "mpegts"],
  ["adpcm.wav", "-c:a", "adpcm_ima_wav"],
  ["wma.wma", "-c:a", "wmav2"],
  ["pcm.aiff", "-t", "0.5"],
  ["ac3.ac3", "-c:a", "ac3"],
  ["wavpack.wv", "-c:a", "wavpack"],
];

/** Writes the seeds that need ffmpeg into a folder; tells whether there is an ffmpeg. */
export function encodeSeeds(folder: string): boolean {
  mkdirSync(folder, { recursive: true });
  const source = join(folder, "source");
  writeFileSync(source, buildWav(wavRecipes["s16.wav"]!));
  const outputs = encodings.flatMap(([name, ...options]) => [
    ...["-map_metadata", "-1", "-bitexact", "-map", "0:a"],
    ...options,
    join(folder, name),
  ]);
  const made = spawnSync("ffmpeg", ["-v", "error", "-y", "-i", source, ...outputs]);
  return made.status === 0;
}

/**
 * All seeds, in a fixed order: WAVs built here, the fixtures of the decoders, and what `encodeSeeds` put
 * into `folder`.
 *
 * @param root the project's folder
 */
export function readSeeds(root: string, folder: string): SeedFile[] {
  const built = Object.entries(wavRecipes).map(([name, recipe]) => ({
    name,
    bytes: buildWav(recipe),
  }));
  const read = (from: string): SeedFile[] =>
    readdirSync(from)
      .filter((name) => isSound(name) || from === folder)
      .filter((name) => name !== "source")
      .sort()
      .map((name) => ({ name, bytes: new Uint8Array(readFileSync(join(from, name))) }));
  return [...built, ...read(join(root, FIXTURES)), ...(existsSync(folder) ? read(folder) : [])];
}
