import { mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { WasherNoiseError } from "../../src/foundation/errors.js";
import { readSoundFile } from "../../src/recording/files/read-sound-file.js";
import { sniff } from "../../src/recording/decode/sniff.js";
import { wavBytes } from "../../src/synthesis/wav-bytes.js";
import { fixtureBytes, fixturePath } from "./fixtures/fixture-signal.js";

const folder = mkdtempSync(join(tmpdir(), "washer-noise-decode-"));
afterAll(() => {
  rmSync(folder, { recursive: true });
});

function place(name: string, content: Uint8Array | string): string {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
}

async function refusal(path: string): Promise<WasherNoiseError> {
  const error: unknown = await readSoundFile(path, { ffmpegCommand: null }).then(
    () => new Error("was read"),
    (reason: unknown) => reason,
  );
  expect(error).toBeInstanceOf(WasherNoiseError);
  return error as WasherNoiseError;
}

// Bytes that no format claims: a fixed linear congruence.
const noiseBytes = (length: number): Uint8Array => {
  let state = 7;
  return Uint8Array.from(
    { length },
    () => (state = (state * 1103515245 + 12345) & 0x7fffffff) >> 16,
  );
};

const cases: readonly (readonly [what: string, code: string, path: () => string])[] = [
  ["a missing path", "file-unreadable", () => join(folder, "missing.m4a")],
  ["a folder", "file-unreadable", () => folder],
  ["a device", "file-unreadable", () => "/dev/null"],
  ["an empty file", "file-empty", () => place("empty.m4a", "")],
  ["a text file named .wav", "not-audio", () => place("text.wav", "Dear customer,\nplease find\n")],
  ["one byte", "not-audio", () => place("byte.mp3", "x")],
  ["noise", "not-audio", () => place("noise.m4a", noiseBytes(5000))],
  ["a PDF", "not-audio", () => place("invoice.m4a", "%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")],
  ["a video without sound", "not-audio", () => fixturePath("silent-video.mp4")],
  [
    "an m4a cut off before its index",
    "recording-damaged",
    () => place("cut.mov", fixtureBytes("aac-index-last.mov").subarray(0, 12_000)),
  ],
  [
    "a WAV cut off in its header",
    "recording-damaged",
    () => place("cut.wav", "RIFF\x24\x00\x00\x00WAVEfmt "),
  ],
  [
    "a WAV of 12 s of which a tenth is left",
    "recording-damaged",
    () => place("stub.wav", wavBytes(new Float32Array(12 * 8000), 8000).subarray(0, 1700)),
  ],
  [
    "an Ogg page and nothing behind it",
    "recording-damaged",
    () => place("a.ogg", "OggS\0\x02\0\0"),
  ],
  ["a FLAC marker and nothing behind it", "recording-damaged", () => place("a.flac", "fLaC")],
  [
    "an MP3 tag and nothing behind it",
    "recording-damaged",
    () => place("a.mp3", "ID3\x04\0\0\0\0\0\0"),
  ],
];

describe("readSoundFile refuses, in one line that names file and remedy,", () => {
  for (const [what, code, path] of cases) {
    it(`${what}: ${code}`, async () => {
      const name = path();
      const error = await refusal(name);
      expect(error.code).toBe(code);
      expect(error.message).not.toContain("\n");
      expect(error.message.startsWith(`${name}: `)).toBe(true);
      expect(error.message).toMatch(/\. [A-Z][^.]*.*\.$/);
    });
  }
});

describe("readSoundFile of a recording that was cut off", () => {
  it.each([
    ["m4a", "aac-index-first.m4a", 0.6],
    ["FLAC", "tones.flac", 0.5],
    ["MP3", "tones.mp3", 0.5],
  ])("%s: gives what is there and says that it is truncated", async (_, file, share) => {
    const bytes = fixtureBytes(file);
    const cut = bytes.subarray(0, Math.round(share * bytes.length));
    const sound = await readSoundFile(place(`cut-${file}`, cut), { ffmpegCommand: null });
    expect(sound.fileSeconds).toBeGreaterThan(0.4);
    expect(sound.fileSeconds).toBeLessThan(1.2);
    expect(sound.problems.map(({ code }) => code)).toContain("truncated");
  });
});

describe("readSoundFile does not trust names", () => {
  it("tells the format by content: a FLAC file named .mp3", async () => {
    const sound = await readSoundFile(place("named.mp3", fixtureBytes("tones.flac")));
    expect(sound.codec).toBe("flac, 16 bit");
  });

  it("reads a file through a symbolic link and with blanks and a leading dash in its name", async () => {
    const target = place("- i x; rm.flac", fixtureBytes("tones.flac"));
    symlinkSync(target, join(folder, "link"));
    expect((await readSoundFile(join(folder, "link"))).channelCount).toBe(2);
  });
});

describe("a random flip of bytes in any fixture", () => {
  const files = [
    "aac-index-first.m4a",
    "aac.adts",
    "tones.mp3",
    "tones.flac",
    "vorbis.ogg",
    "opus.ogg",
    "opus.webm",
  ];
  it.each(files)("ends in samples or in a typed refusal: %s", async (file) => {
    for (let round = 1; round <= 6; round++) {
      const bytes = fixtureBytes(file).slice();
      const flips = noiseBytes(8 * round);
      for (let i = 0; i + 1 < flips.length; i += 2) {
        const at = (flips[i]! * 7919 + flips[i + 1]! * 104_729 + round * 31) % bytes.length;
        bytes[at] = flips[i]! ^ bytes[at]!;
      }
      const path = place(`flip-${file}`, bytes);
      const outcome = await readSoundFile(path, { ffmpegCommand: null }).then(
        (sound) => (sound.channels[0]!.every(Number.isFinite) ? "samples" : "not finite"),
        (error: unknown) => (error instanceof WasherNoiseError ? "refused" : error),
      );
      expect(["samples", "refused"]).toContain(outcome);
    }
  });
});

describe("sniff", () => {
  const start = (text: string): Uint8Array => Uint8Array.from(text, (c) => c.charCodeAt(0));
  it.each([
    ["\0\0\0\x1cftypM4A ", "mp4"],
    ["\0\0\0\x08wide", "mp4"],
    ["\xff\xfb\x90\x44", "mp3"],
    ["\xff\xf1\x50\x80", "adts"],
    ["\xff\xf9\x4c\x80", "adts"],
    ["\x1a\x45\xdf\xa3", "matroska"],
    ["#!AMR-WB\n", "foreign"],
    ["\0\0\0\x18ftypheic", "not-audio"],
  ])("%j is %s", (head, kind) => {
    expect(sniff(start(head)).kind).toBe(kind);
  });
});
