import { spawn } from "node:child_process";
import { once } from "node:events";
import { writeFile } from "node:fs/promises";
import { UsageError } from "./shared-options.js";

/** How a recording can be stored. `mix` takes a different one for each. */
export const CODECS = ["wav", "aac", "opus", "opus-voice", "amr", "mix"] as const;
export type Codec = (typeof CODECS)[number];
export type SingleCodec = Exclude<Codec, "mix">;

interface Encoding {
  readonly extension: string;
  readonly words: string;
  /** ffmpeg's names for encoders that can make it; any one will do. */
  readonly encoders: readonly string[];
  readonly options: readonly string[];
}

export const ENCODINGS: Readonly<Record<SingleCodec, Encoding>> = {
  wav: { extension: "wav", words: "pcm 16 bit", encoders: [], options: [] },
  aac: {
    extension: "m4a",
    words: "AAC 96 kbit/s",
    encoders: ["aac"],
    options: ["-b:a", "96k"],
  },
  opus: {
    extension: "ogg",
    words: "Opus 64 kbit/s",
    encoders: ["libopus"],
    options: ["-b:a", "64k", "-ar", "48000"],
  },
  "opus-voice": {
    extension: "ogg",
    words: "Opus voice 16 kbit/s",
    encoders: ["libopus"],
    options: ["-b:a", "16k", "-application", "voip", "-ar", "16000"],
  },
  amr: {
    extension: "amr",
    words: "AMR narrow band 12.2 kbit/s",
    encoders: ["libopencore_amrnb", "amr_nb"],
    options: ["-ar", "8000", "-b:a", "12.2k"],
  },
};

async function collect(args: readonly string[], input?: Uint8Array): Promise<string> {
  const child = spawn("ffmpeg", args, { stdio: ["pipe", "pipe", "pipe"] });
  const said: Buffer[] = [];
  const complained: Buffer[] = [];
  child.stdout.on("data", (chunk: Buffer) => said.push(chunk));
  child.stderr.on("data", (chunk: Buffer) => complained.push(chunk));
  child.stdin.on("error", () => undefined); // an encoder that gives up early says why itself
  child.stdin.end(input);
  const [code] = (await once(child, "close")) as [number];
  if (code !== 0) throw new Error(Buffer.concat(complained).toString().trim());
  return Buffer.concat(said).toString();
}

/** Codecs of the list that the installed ffmpeg can write; wav always. */
export async function availableCodecs(): Promise<Map<SingleCodec, string>> {
  const available = new Map<SingleCodec, string>([["wav", ""]]);
  let listing: string;
  try {
    listing = await collect(["-hide_banner", "-encoders"]);
  } catch {
    return available;
  }
  const names = new Set(listing.split("\n").map((line) => line.trim().split(/\s+/)[1]));
  for (const [codec, { encoders }] of Object.entries(ENCODINGS)) {
    const encoder = encoders.find((name) => names.has(name));
    if (encoder) available.set(codec as SingleCodec, encoder);
  }
  return available;
}

/** Throws unless the codec can be written here. */
export function requireCodec(codec: Codec, available: ReadonlyMap<SingleCodec, string>): void {
  if (codec === "mix" || available.has(codec)) return;
  const others = [...available.keys()].join(", ");
  throw new UsageError(
    `--codec ${codec} needs an ffmpeg on the PATH with an encoder for it; this one can write: ${others}.`,
  );
}

/** Writes the bytes of a WAVE file to `path`, encoded. */
export async function writeEncoded(
  path: string,
  wav: Uint8Array,
  codec: SingleCodec,
  encoder: string,
): Promise<void> {
  if (codec === "wav") {
    await writeFile(path, wav);
    return;
  }
  const quiet = ["-hide_banner", "-loglevel", "error", "-y"];
  // Bit-exact: no date and no version in the file, so that the same seed gives the same bytes.
  const exact = ["-map_metadata", "-1", "-fflags", "+bitexact", "-flags:a", "+bitexact"];
  const { options } = ENCODINGS[codec];
  await collect(
    [...quiet, "-f", "wav", "-i", "pipe:0", "-c:a", encoder, ...options, ...exact, path],
    wav,
  );
}
