import { describe, expect, it } from "vitest";
import { readAudioSpecificConfig } from "../../src/recording/decode/aac/aac-config.js";
import { AAC_CODEBOOKS } from "../../src/recording/decode/aac/codebooks.data.js";
import { AAC_BANDS } from "../../src/recording/decode/aac/bands.data.js";
import { bytesSource } from "../../src/recording/decode/byte-source.js";
import { decodeAudio } from "../../src/recording/decode/decode-audio.js";
import { imdct } from "../../src/recording/decode/imdct.js";
import { agreementDb, fixtureBytes, fixtureSignal } from "./fixtures/fixture-signal.js";

const config = (...bytes: number[]) => readAudioSpecificConfig("clip.m4a", Uint8Array.from(bytes));

// Bytes by hand from the syntax of ISO/IEC 14496-3, 1.6.2.1: object type 5 bits, rate index 4, channels 4.
describe("readAudioSpecificConfig", () => {
  it("reads AAC-LC, 44.1 kHz, stereo from 00010 0100 0010 000", () => {
    expect(config(0x12, 0x10)).toMatchObject({
      sampleRateHz: 44_100,
      channelCount: 2,
      highEfficiency: false,
    });
  });

  it("reads a rate written out, 00010 1111 + 24 bits + 0001 000", () => {
    const hz = 37_800;
    const bits = `000101111${hz.toString(2).padStart(24, "0")}0001000`;
    const bytes = bits.match(/.{8}/g)!.map((byte) => Number.parseInt(byte, 2));
    expect(config(...bytes)).toMatchObject({ sampleRateHz: hz, channelCount: 1 });
  });

  it.each([
    ["object type 5", [0x2b, 0x92, 0x08, 0x00]],
    ["the backward-compatible extension 0x2B7", [0x13, 0x10, 0x56, 0xe5, 0x98]],
  ])("notices high-efficiency AAC by %s", (_, bytes) => {
    expect(config(...bytes)).toMatchObject({ highEfficiency: true, channelCount: 2 });
  });

  it("refuses low-delay AAC by name", () => {
    expect(() => config(0xb9, 0x90)).toThrow(/AAC-LD/);
  });
});

/** Puts a fill element with band replication data before the content of each ADTS frame. */
function withBandReplication(adts: Uint8Array): Uint8Array {
  const out: number[] = [];
  for (let at = 0; at + 7 <= adts.length;) {
    const length = ((adts[at + 3]! & 3) << 11) | (adts[at + 4]! << 3) | (adts[at + 5]! >> 5);
    const content = adts.subarray(at + 7, at + length);
    // 110 fill, 0001 one byte, 1101 band replication, 0000: 15 bits, then the frame as it was.
    let bits = "110000111010000";
    for (const byte of content) bits += byte.toString(2).padStart(8, "0");
    bits = bits.padEnd(Math.ceil(bits.length / 8) * 8, "0");
    const header = adts.slice(at, at + 7);
    const longer = 7 + bits.length / 8;
    header[3] = (header[3]! & 0xfc) | (longer >> 11);
    header[4] = (longer >> 3) & 0xff;
    header[5] = ((longer & 7) << 5) | (header[5]! & 0x1f);
    out.push(...header);
    for (let i = 0; i < bits.length; i += 8) out.push(Number.parseInt(bits.slice(i, i + 8), 2));
    at += length;
  }
  return Uint8Array.from(out);
}

describe("decodeAudio of high-efficiency AAC that no header announces", () => {
  const bytes = withBandReplication(fixtureBytes("aac.adts"));

  it("asks for a complete decoder first", async () => {
    const asked: string[] = [];
    await decodeAudio(bytesSource(bytes), {}, (format) => {
      asked.push(format);
      return Promise.resolve(null);
    });
    expect(asked).toEqual(["adts, HE-AAC"]);
  });

  it("without one decodes the lower half and says so", async () => {
    const sound = await decodeAudio(bytesSource(bytes));
    expect(sound.codec).toContain("HE-AAC");
    expect(sound.problems).toHaveLength(1);
    expect(sound.problems[0]).toMatchObject({ code: "lossy-codec", severity: "limits" });
    expect(agreementDb(sound.channels[0]!, fixtureSignal()[0], 1024)).toBeGreaterThan(50);
  });
});

describe("decodeAudio of AAC with broken frames", () => {
  it("keeps time, leaves the broken frames out and counts them", async () => {
    const bytes = fixtureBytes("aac.adts").slice();
    const clean = await decodeAudio(bytesSource(fixtureBytes("aac.adts")));
    // Spoils the content of a few frames, not their headers.
    for (let at = 0, frame = 0; at + 7 <= bytes.length; frame++) {
      const length = ((bytes[at + 3]! & 3) << 11) | (bytes[at + 4]! << 3) | (bytes[at + 5]! >> 5);
      if (frame >= 30 && frame < 34) bytes.fill(0xff, at + 7, at + length);
      at += length;
    }
    const sound = await decodeAudio(bytesSource(bytes));
    expect(sound.channels[0]!.length).toBe(clean.channels[0]!.length);
    expect(sound.problems).toHaveLength(1);
    expect(sound.problems[0]).toMatchObject({ code: "damaged" });
    const tail = (x: Float32Array): Float32Array => x.subarray(40 * 1024);
    expect(agreementDb(tail(sound.channels[0]!), tail(clean.channels[0]!))).toBeGreaterThan(60);
  });
});

describe("imdct(N)", () => {
  it.each([16, 256, 2048])("equals the sum of its definition for N = %i", (length) => {
    const lines = Float64Array.from({ length: length / 2 }, (_, k) => Math.sin(k * k + 1));
    const out = new Float64Array(length);
    imdct(length).inverse(lines, out);
    for (let n = 0; n < length; n += Math.max(1, length / 16 - 1)) {
      let sum = 0;
      lines.forEach((x, k) => {
        sum += x * Math.cos(((2 * Math.PI) / length) * (n + 0.5 + length / 4) * (k + 0.5));
      });
      expect(out[n]).toBeCloseTo(sum, 9);
    }
  });
});

describe("the tables of AAC", () => {
  it("hold complete prefix codes: the codeword lengths fill the tree (Kraft sum 1)", () => {
    expect(AAC_CODEBOOKS).toHaveLength(12);
    for (const { lengthCounts, entries, levels, dimension, source } of AAC_CODEBOOKS) {
      const kraft = lengthCounts.reduce((sum, count, i) => sum + count * 2 ** -(i + 1), 0);
      expect(kraft).toBe(1);
      expect([...entries].sort((a, b) => a - b)).toEqual(
        Array.from({ length: levels ** dimension }, (_, i) => i),
      );
      expect(source).not.toBe("");
    }
  });

  it("hold band edges that rise by multiples of four up to the window's end", () => {
    for (const { long, short } of AAC_BANDS) {
      for (const [edges, end] of [
        [long, 1024],
        [short, 128],
      ] as const) {
        expect(edges[0]).toBe(0);
        expect(edges.at(-1)).toBe(end);
        edges.slice(1).forEach((edge, i) => {
          expect(edge - edges[i]!).toBeGreaterThan(0);
          expect((edge - edges[i]!) % 4).toBe(0);
        });
      }
    }
  });
});
