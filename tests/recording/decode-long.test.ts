import { describe, expect, it } from "vitest";
import { bytesSource } from "../../src/recording/decode/byte-source.js";
import { decodeAudio } from "../../src/recording/decode/decode-audio.js";
import { loudestStretch } from "../../src/recording/decode/loudest-stretch.js";
import { buildWav, integerCodes } from "./fixtures/wav-builder.js";

const RATE_HZ = 8000;

// Quiet, with a loud stretch whose samples count upwards so that each of them can be recognised.
function longWav(seconds: number, loudFrom: number, loudTo: number): Uint8Array {
  const values = Array.from({ length: seconds * RATE_HZ }, (_, i) => {
    const second = i / RATE_HZ;
    return second >= loudFrom && second < loudTo ? 10_000 + (i % 7000) : i % 50;
  });
  const data = integerCodes(values, 2);
  return buildWav({ tag: 1, bits: 16, channelCount: 1, sampleRateHz: RATE_HZ, data });
}

describe("decodeAudio of a recording longer than maxKeptSeconds", () => {
  it("keeps the loudest stretch, sample for sample, and says which", async () => {
    const source = bytesSource(longWav(30, 12, 17), "long.wav");
    const decoded = await decodeAudio(source, { maxKeptSeconds: 5 });
    expect(decoded.fileSeconds).toBe(30);
    const [kept] = decoded.channels;
    expect(kept!.length).toBe(5 * RATE_HZ);
    const first = 12 * RATE_HZ;
    expect(kept!.every((x, i) => x * 32768 === 10_000 + ((first + i) % 7000))).toBe(true);
    expect(decoded.problems).toHaveLength(1);
    expect(decoded.problems[0]).toMatchObject({ code: "long", severity: "note" });
    expect(decoded.problems[0]!.message).toContain("0:12 to 0:17");
  });

  it("keeps all of one that is just short enough", async () => {
    const decoded = await decodeAudio(bytesSource(longWav(5, 1, 2)), { maxKeptSeconds: 5 });
    expect(decoded.channels[0]!.length).toBe(5 * RATE_HZ);
    expect(decoded.problems).toEqual([]);
  });

  it("finds the stretch where the header does not tell the length", async () => {
    const bytes = longWav(30, 20, 25);
    const view = new DataView(bytes.buffer);
    view.setUint32(4, 0xffffffff, true);
    view.setUint32(40, 0xffffffff, true);
    const decoded = await decodeAudio(bytesSource(bytes), { maxKeptSeconds: 5 });
    expect(decoded.problems[0]!.message).toContain("0:20 to 0:25");
  });
});

describe("decodeAudio limits", () => {
  const wav = longWav(30, 0, 1);

  it("refuses a recording longer than maxSeconds before it decodes", async () => {
    await expect(decodeAudio(bytesSource(wav), { maxSeconds: 20 })).rejects.toMatchObject({
      code: "recording-too-large",
    });
  });

  it("refuses a file larger than maxBytes without reading it", async () => {
    const source = {
      ...bytesSource(wav),
      read: () => Promise.reject(new Error("must not be read")),
    };
    await expect(decodeAudio(source, { maxBytes: 1000 })).rejects.toMatchObject({
      code: "recording-too-large",
    });
  });

  it("names the option that is out of range", async () => {
    await expect(decodeAudio(bytesSource(wav), { maxKeptSeconds: 0 })).rejects.toMatchObject({
      code: "out-of-range",
      facts: { name: "maxKeptSeconds" },
    });
  });

  it("stops between two blocks when asked to", async () => {
    const signal = AbortSignal.abort();
    await expect(decodeAudio(bytesSource(wav), { signal })).rejects.toMatchObject({
      code: "cancelled",
    });
  });
});

describe("loudestStretch", () => {
  it("takes the first of equally loud stretches", () => {
    expect(loudestStretch([1, 1, 1, 1, 1], 2)).toEqual({ startSeconds: 0, endSeconds: 2 });
  });

  it("prefers a long loud part to a single louder second", () => {
    const energies = [0, 5, 0, 0, 3, 3, 3, 0];
    expect(loudestStretch(energies, 3)).toEqual({ startSeconds: 4, endSeconds: 7 });
  });
});
