import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { afterEach, describe, expect, it, vi } from "vitest";
import { parseIntake } from "../../src/batch/intake/intake-sheet.js";
import { loadWasher } from "../../src/batch/load-washer.js";
import { WasherNoiseError } from "../../src/foundation/errors.js";
import { bytesSource } from "../../src/recording/decode/byte-source.js";
import { decodeAudio } from "../../src/recording/decode/decode-audio.js";
import { crc16, crc8 } from "../../src/recording/decode/flac/crc.js";
import type { DecodedAudio } from "../../src/recording/recording.js";
import { readSoundFile } from "../../src/recording/files/read-sound-file.js";
import { fixtureBytes } from "../recording/fixtures/fixture-signal.js";
import { buildWav } from "../recording/fixtures/wav-builder.js";

const pathOf = (name: string): string =>
  fileURLToPath(new URL(`regressions/${name}`, import.meta.url));

/** Frames of 65,535 equal samples in 14 bytes each: 48 kHz, mono, 16 bit. RFC 9639, sections 8.2 and 9. */
function silentFlac(frameCount: number): Uint8Array {
  const frame = Uint8Array.of(0xff, 0xf8, 0x7a, 0x08, 0, 0xff, 0xfe, 0, 0, 0, 0, 0, 0);
  frame[7] = crc8(frame, 0, 7);
  const sum = crc16(frame, 0, 11);
  frame.set([sum >> 8, sum & 0xff], 11);
  const head = new Uint8Array(42);
  head.set([0x66, 0x4c, 0x61, 0x43, 0x80, 0, 0, 34, 0xff, 0xff, 0xff, 0xff]);
  // 20 bits of rate, 3 of channels less one, 5 of bits less one, 36 of samples (0: not known).
  head.set([0x0b, 0xb8, 0x00, 0xf0], 18);
  const whole = new Uint8Array(head.length + frameCount * frame.length);
  whole.set(head);
  for (let i = 0; i < frameCount; i++) whole.set(frame, head.length + i * frame.length);
  return whole;
}

const decode = (bytes: Uint8Array): Promise<DecodedAudio> => decodeAudio(bytesSource(bytes));

async function refusalOf(work: Promise<unknown>): Promise<WasherNoiseError> {
  const error: unknown = await work.then(
    () => new Error("was accepted"),
    (reason: unknown) => reason,
  );
  expect(error).toBeInstanceOf(WasherNoiseError);
  return error as WasherNoiseError;
}

afterEach(() => {
  vi.restoreAllMocks();
});

describe("files that once broke the program", () => {
  // The demuxer looked for the next element for ever once eight bytes were left.
  it.each(["junk-behind-head.webm", "other-file-inside.mka"])(
    "%s ends in a refusal instead of never",
    async (name) => {
      const error = await refusalOf(readSoundFile(pathOf(name), { ffmpegCommand: null }));
      expect(error.code).toBe("recording-damaged");
    },
    5000,
  );

  it("packet-too-large.webm: what is whole of it is heard, instead of an untyped error", async () => {
    const sound = await readSoundFile(pathOf("packet-too-large.webm"), { ffmpegCommand: null });
    expect(sound.fileSeconds).toBeGreaterThan(0.2);
    expect(sound.problems.map(({ code }) => code)).toContain("damaged");
  });

  // ISO/IEC 14496-12, 8.8.8: a run of packets without fields of their own takes no bytes, however many it claims.
  it("too-many-packets.mp4: fragments of more packets than bytes are refused without taking memory", async () => {
    const before = process.memoryUsage().rss;
    const error = await refusalOf(
      readSoundFile(pathOf("too-many-packets.mp4"), { ffmpegCommand: null }),
    );
    expect(error.code).toBe("recording-damaged");
    expect(process.memoryUsage().rss - before).toBeLessThan(100 * 1024 * 1024);
  });

  it("a WAV header of 65535 channels in blocks of one byte is refused without taking memory", async () => {
    const bytes = buildWav({
      tag: 1,
      bits: 16,
      channelCount: 65_535,
      blockBytes: 1,
      data: new Uint8Array(1 << 20),
    });
    const before = process.memoryUsage().rss;
    const error = await refusalOf(decode(bytes));
    expect(error.code).toBe("recording-damaged");
    expect(error.message).toContain("65535 channels");
    expect(process.memoryUsage().rss - before).toBeLessThan(100 * 1024 * 1024);
  });

  it("damaged MP3 and Opus frames are told as problems, not on the console", async () => {
    const complaints = vi.spyOn(console, "error").mockImplementation(() => undefined);
    for (const name of ["tones.mp3", "opus.webm"]) {
      const bytes = fixtureBytes(name).slice();
      for (let at = 6000; at < 9000; at += 7) bytes[at]! ^= 0x55;
      const outcome = await decode(bytes).then(
        ({ problems }) => problems.map(({ code }) => code),
        ({ code }: WasherNoiseError) => [code],
      );
      expect(outcome.length).toBeGreaterThan(0);
    }
    expect(complaints).not.toHaveBeenCalled();
  });

  it("a machine file with a byte order mark is read, and a broken one is refused in one line", async () => {
    const washer = await loadWasher(pathOf("whole-behind-mark.machine"));
    expect(washer.profiles[0]!.spinRpm).toMatchObject({ typical: 640 });
    const error = await refusalOf(loadWasher(pathOf("broken-behind-mark.machine")));
    expect(error.code).toBe("machine-file-invalid");
    expect(error.message).not.toMatch(/\p{Cc}/u);
  });

  it("an intake sheet whose heading holds line ends and terminal codes is refused in one line", async () => {
    const name = pathOf("heading-of-two-lines.csv");
    const error = await refusalOf(
      Promise.resolve().then(() => parseIntake(readFileSync(name), name)),
    );
    expect(error.code).toBe("intake-invalid");
    expect(error.message).not.toMatch(/\p{Cc}/u);
    expect(error.message).toContain("\\u001b]0;title");
  });
});

describe("limits", () => {
  const wav = buildWav({ tag: 1, bits: 16, channelCount: 4, data: new Uint8Array(800_000) });
  it.each([
    ["maxBytes", { maxBytes: 100_000 }, "recording-too-large"],
    ["maxSeconds", { maxSeconds: 1 }, "recording-too-large"],
    ["maxDecodedSamples", { maxDecodedSamples: 1e5 }, "recording-too-large"],
    ["maxChannels", { maxChannels: 2 }, "recording-damaged"],
    ["maxSampleRateHz", { maxSampleRateHz: 44_100 }, "recording-damaged"],
    ["minSampleRateHz", { minSampleRateHz: 48_000 }, null],
  ])("%s is kept, and the error states it", async (name, limit, code) => {
    const reading = decodeAudio(bytesSource(wav, "four.wav"), limit);
    if (code === null) {
      expect((await reading).channelCount).toBe(4);
      return;
    }
    const error = await refusalOf(reading);
    expect(error.code).toBe(code);
    const [value] = Object.values(limit) as [number];
    expect(Object.values(error.facts)).toContain(value);
    expect(error.message).toContain(name);
  });

  it("a small FLAC file that unfolds to hours of silence is refused", async () => {
    const bytes = silentFlac(2000);
    expect(bytes.length).toBeLessThan(40_000);
    const error = await refusalOf(decode(bytes));
    expect(error.code).toBe("recording-damaged");
    expect(error.message).toContain("maxSamplesPerByte");
  });

  it("a file that holds more than its header claims says so", async () => {
    const bytes = fixtureBytes("tones.flac").slice();
    // Number of samples in the file: the low 32 bits of 36. RFC 9639, section 8.2.
    new DataView(bytes.buffer).setUint32(22, 4800, false);
    const { problems } = await decode(bytes);
    expect(problems.map(({ code, severity }) => `${code} ${severity}`)).toContain("damaged limits");
  });
});
