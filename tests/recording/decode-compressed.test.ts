import { execFileSync, spawnSync } from "node:child_process";
import { describe, expect, it } from "vitest";
import { readSoundFile } from "../../src/recording/files/read-sound-file.js";
import {
  agreementDb,
  bestLag,
  fixtureBytes,
  FIXTURE_RATE_HZ,
  FIXTURE_SECONDS,
  fixturePath,
  fixtureSignal,
} from "./fixtures/fixture-signal.js";

const command = "ffmpeg";
const ffmpegMissing = spawnSync(command, ["-version"]).status !== 0;
if (ffmpegMissing) {
  process.stderr.write(
    "\n*** ffmpeg is not installed: the decoders are not compared with it in this run ***\n\n",
  );
}
const skipped = ffmpegMissing ? " (skipped: ffmpeg is not installed)" : "";

// Codecs at these bit rates keep the tones of the fixtures to 25 dB or better; a channel swapped, an
// octave off, a frame lost or a lag of one sample all give less than 20 dB.
const fixtures = [
  { file: "aac-index-first.m4a", codec: "m4a, AAC-LC", leastDb: 50 },
  { file: "aac-index-last.mov", codec: "mov, AAC-LC", leastDb: 50 },
  { file: "tones.mp3", codec: "mp3", leastDb: 25 },
  { file: "tones.flac", codec: "flac, 16 bit", leastDb: 75 },
  { file: "vorbis.ogg", codec: "ogg, vorbis", leastDb: 25 },
  { file: "opus.ogg", codec: "ogg, opus", leastDb: 20 },
  { file: "opus.webm", codec: "webm, opus", leastDb: 20 },
];

describe("readSoundFile gives back the source signal, in time, without ffmpeg", () => {
  for (const { file, codec, leastDb } of fixtures) {
    it(`of ${file}`, async () => {
      const sound = await readSoundFile(fixturePath(file), { ffmpegCommand: null });
      expect(sound.codec).toBe(codec);
      expect(sound.sampleRateHz).toBe(FIXTURE_RATE_HZ);
      expect(sound.channelCount).toBe(2);
      expect(sound.problems).toEqual([]);
      expect(Math.abs(sound.fileSeconds - FIXTURE_SECONDS)).toBeLessThan(0.05);
      fixtureSignal().forEach((source, c) => {
        expect(bestLag(sound.channels[c]!, source)).toBe(0);
        expect(agreementDb(sound.channels[c]!, source)).toBeGreaterThan(leastDb);
      });
    });
  }

  it("of aac.adts, late by the encoder's start-up, which ADTS does not tell", async () => {
    const sound = await readSoundFile(fixturePath("aac.adts"), { ffmpegCommand: null });
    expect(sound.codec).toBe("adts, AAC-LC");
    fixtureSignal().forEach((source, c) => {
      expect(agreementDb(sound.channels[c]!, source, 1024)).toBeGreaterThan(50);
    });
  });

  it("of aac-mono.3gp, both channels mixed, at 32 kHz", async () => {
    const sound = await readSoundFile(fixturePath("aac-mono.3gp"), { ffmpegCommand: null });
    expect(sound).toMatchObject({ codec: "3gp, AAC-LC", sampleRateHz: 32_000, channelCount: 1 });
    const [left, right] = fixtureSignal(32_000);
    const mixed = left.map((x, i) => (x + right[i]!) / 2);
    expect(bestLag(sound.channels[0]!, mixed)).toBe(0);
    expect(agreementDb(sound.channels[0]!, mixed)).toBeGreaterThan(25);
  });

  it("of aac-tools.m4a, as ffmpeg decodes it: short windows, noise shaping, joint stereo", async () => {
    const sound = await readSoundFile(fixturePath("aac-tools.m4a"), { ffmpegCommand: null });
    const bytes = fixtureBytes("aac-tools.s16");
    const theirs = new Int16Array(
      bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length),
    );
    sound.channels.forEach((samples, c) => {
      const reference = Float32Array.from(
        theirs.filter((_, i) => i % 2 === c),
        (x) => x / 32768,
      );
      // Rounding to 16 bits leaves about 70 dB at this level.
      expect(agreementDb(samples, reference)).toBeGreaterThan(60);
    });
  });

  it("of the sound of video.mp4", async () => {
    const sound = await readSoundFile(fixturePath("video.mp4"), { ffmpegCommand: null });
    expect(sound.codec).toBe("mp4, AAC-LC");
    expect(agreementDb(sound.channels[0]!, fixtureSignal()[0])).toBeGreaterThan(20);
  });

  it("and names the file by its SHA-256", async () => {
    const sound = await readSoundFile(fixturePath("tones.flac"));
    const digest = await crypto.subtle.digest("SHA-256", fixtureBytes("tones.flac"));
    expect(sound.sha256).toBe(Buffer.from(digest).toString("hex"));
    expect(sound.file).toBe(fixturePath("tones.flac"));
  });
});

function ffmpegDecode(file: string): Float32Array {
  const input = ["-loglevel", "error", "-i", fixturePath(file), "-map", "0:a:0"];
  const raw = execFileSync(command, [...input, "-f", "f32le", "-"], { maxBuffer: 1 << 26 });
  return new Float32Array(raw.buffer.slice(raw.byteOffset, raw.byteOffset + raw.length));
}

// The encoders of these two AAC files were told not to replace noise by random numbers, which no two decoders share.
const exactFixtures = [
  { file: "aac-index-last.mov", leastDb: 100 },
  { file: "aac-tools.m4a", leastDb: 100 },
  { file: "tones.mp3", leastDb: 100 },
  { file: "tones.flac", leastDb: 140 },
  { file: "vorbis.ogg", leastDb: 100 },
  { file: "opus.ogg", leastDb: 60 },
];

describe("readSoundFile agrees with ffmpeg's own decoder", () => {
  for (const { file, leastDb } of exactFixtures) {
    it.skipIf(ffmpegMissing)(`on ${file} to ${leastDb} dB${skipped}`, async () => {
      const sound = await readSoundFile(fixturePath(file), { ffmpegCommand: null });
      const theirs = ffmpegDecode(file);
      sound.channels.forEach((samples, c) => {
        const reference = theirs.filter((_, i) => i % 2 === c);
        expect(Math.abs(samples.length - reference.length)).toBeLessThan(1024);
        const ratio = agreementDb(samples, reference);
        expect(ratio).toBeGreaterThan(leastDb);
      });
    });
  }
});

describe("readSoundFile hands other formats to ffmpeg", () => {
  it.skipIf(ffmpegMissing)(`AMR, as a voice codec with its limits${skipped}`, async () => {
    const sound = await readSoundFile(fixturePath("voice.amr"));
    expect(sound).toMatchObject({ codec: "amr, amr-nb (ffmpeg)", sampleRateHz: 8000 });
    expect(sound.channels[0]!.length).toBeGreaterThan(11_000);
    expect(sound.problems.map(({ code }) => code)).toContain("lossy-codec");
  });

  it.skipIf(ffmpegMissing)(`ALAC in CAF, losslessly${skipped}`, async () => {
    const sound = await readSoundFile(fixturePath("alac.caf"));
    expect(sound.codec).toBe("caf, alac (ffmpeg)");
    expect(agreementDb(sound.channels[0]!, fixtureSignal()[0])).toBeGreaterThan(70);
  });

  it.each([
    ["voice.amr", "amr-nb"],
    ["alac.caf", "CAF"],
  ])("and without it names format and remedy: %s", async (file, format) => {
    const reading = readSoundFile(fixturePath(file), { ffmpegCommand: "no-such-command-here" });
    await expect(reading).rejects.toMatchObject({ code: "format-unsupported" });
    await expect(reading).rejects.toThrow(format);
    await expect(reading).rejects.toThrow("Install ffmpeg");
  });
});
