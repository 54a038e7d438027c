import { describe, expect, it } from "vitest";
import { bytesSource } from "../../src/recording/decode/byte-source.js";
import { decodeAudio } from "../../src/recording/decode/decode-audio.js";
import { buildWav, floatCodes, integerCodes, type WavRecipe } from "./fixtures/wav-builder.js";

const decode = async (recipe: WavRecipe) => decodeAudio(bytesSource(buildWav(recipe), "clip.wav"));

// Lowest, highest and small codes of each width; the value is code / 2^(bits - 1).
const codes: Readonly<Record<number, readonly number[]>> = {
  16: [-32768, 32767, 0, 1, -1, 12345],
  24: [-8388608, 8388607, 0, 1, -1, 1234567],
  32: [-2147483648, 2147483520, 0, 1, -1, 123456789],
};

describe("decodeAudio(wav) gives back the samples that were written", () => {
  for (const bits of [16, 24, 32]) {
    for (const extensible of [false, true]) {
      it(`as ${bits}-bit integers${extensible ? ", extensible header" : ""}`, async () => {
        const values = codes[bits]!;
        const data = integerCodes(values, bits / 8);
        const { channels } = await decode({ tag: 1, bits, channelCount: 2, data, extensible });
        const expected = values.map((code) => Math.fround(code / 2 ** (bits - 1)));
        expect([...channels[0]!]).toEqual(expected.filter((_, i) => i % 2 === 0));
        expect([...channels[1]!]).toEqual(expected.filter((_, i) => i % 2 === 1));
      });
    }
  }

  it("as 8-bit codes, silence at 128", async () => {
    const data = Uint8Array.of(0, 128, 255, 64);
    const { channels } = await decode({ tag: 1, bits: 8, channelCount: 1, data });
    expect([...channels[0]!]).toEqual([-1, 0, 127 / 128, -0.5]);
  });

  for (const bits of [32, 64] as const) {
    for (const extensible of [false, true]) {
      it(`as ${bits}-bit floats${extensible ? ", extensible header" : ""}`, async () => {
        const values = [0.5, -1, 0.1, 1e-9, 1.5, 0];
        const data = floatCodes(values, (bits / 8) as 4 | 8);
        const { channels } = await decode({ tag: 3, bits, channelCount: 1, data, extensible });
        expect([...channels[0]!]).toEqual(values.map(Math.fround));
      });
    }
  }

  // Decoder output values of ITU-T G.711 (tables 1a and 2a): the largest, the smallest step, zero.
  it("as mu-law: code 0x00 is -8031/8192, 0x80 is +8031/8192, 0xFF is 0", async () => {
    const data = Uint8Array.of(0x00, 0x80, 0xff, 0x7f, 0xfe);
    const { channels, codec } = await decode({ tag: 7, bits: 8, channelCount: 1, data });
    expect([...channels[0]!]).toEqual([-8031 / 8192, 8031 / 8192, 0, -0, 2 / 8192]);
    expect(codec).toBe("WAV, mu-law");
  });

  it("as A-law: code 0x2A is -4032/4096, 0xAA is +4032/4096, 0xD5 is +1/4096", async () => {
    const data = Uint8Array.of(0x2a, 0xaa, 0xd5, 0x55);
    const { channels } = await decode({ tag: 6, bits: 8, channelCount: 1, data });
    expect([...channels[0]!]).toEqual([-4032 / 4096, 4032 / 4096, 1 / 4096, -1 / 4096]);
  });
});

describe("decodeAudio(wav) finds the samples", () => {
  const values = Array.from({ length: 5000 }, (_, i) => ((i * 37) % 65536) - 32768);
  const base: WavRecipe = { tag: 1, bits: 16, channelCount: 1, data: integerCodes(values, 2) };
  const expected = values.map((code) => code / 32768);

  it("behind chunks of odd and even length", async () => {
    const before = [
      ["LIST", new Uint8Array(27).fill(65)],
      ["bext", new Uint8Array(602)],
      ["junk", new Uint8Array(1)],
    ] as const;
    const { channels } = await decode({ ...base, before });
    expect([...channels[0]!]).toEqual(expected);
  });

  it.each([
    ["0 in data and RIFF", { riffSize: 0, dataSize: 0 }],
    ["0xFFFFFFFF in data and RIFF", { riffSize: 0xffffffff, dataSize: 0xffffffff }],
    ["0 in data, pipe size in RIFF", { riffSize: 0x7fffffff, dataSize: 0x7fffffdb }],
  ])("of a header never finished: %s", async (_, sizes) => {
    const decoded = await decode({ ...base, ...sizes });
    expect([...decoded.channels[0]!]).toEqual(expected);
    expect(decoded.problems).toEqual([]);
  });

  it("of RF64, whose sizes stand in ds64", async () => {
    const decoded = await decode({ ...base, rf64: true });
    expect([...decoded.channels[0]!]).toEqual(expected);
    expect(decoded.codec).toBe("RF64, PCM 16 bit");
  });

  it("across the borders of its blocks, for longer recordings", async () => {
    const long = Array.from({ length: 70_001 }, (_, i) => ((i * 7919) % 60_000) - 30_000);
    const { channels } = await decode({ ...base, data: integerCodes(long, 2) });
    expect(channels[0]!.length).toBe(long.length);
    expect(channels[0]!.every((x, i) => x === long[i]! / 32768)).toBe(true);
  });

  it("and says so when the file ends before its claimed length", async () => {
    const data = integerCodes(
      Array.from({ length: 48_000 }, () => 100),
      2,
    );
    const decoded = await decode({ ...base, data, riffSize: 400_000, dataSize: 384_000 });
    expect(decoded.fileSeconds).toBe(1);
    expect(decoded.problems.map(({ code, severity }) => [code, severity])).toEqual([
      ["truncated", "limits"],
    ]);
  });

  it("of the first two of six channels, and tells that there were six", async () => {
    const data = integerCodes([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12], 2);
    const decoded = await decode({ ...base, channelCount: 6, data });
    expect(decoded.channelCount).toBe(6);
    expect(decoded.channels.map((channel) => [...channel].map((x) => x * 32768))).toEqual([
      [1, 7],
      [2, 8],
    ]);
  });
});

describe("decodeAudio(wav) at 96 kHz", () => {
  const tone = (hz: number): WavRecipe => ({
    tag: 3,
    bits: 32,
    channelCount: 1,
    sampleRateHz: 96_000,
    data: floatCodes(
      Array.from({ length: 96_000 }, (_, i) => 0.5 * Math.sin((2 * Math.PI * hz * i) / 96_000)),
      4,
    ),
  });

  it("halves the rate and keeps a 1 kHz tone in place and size", async () => {
    const { channels, sampleRateHz, fileSeconds } = await decode(tone(1000));
    expect(sampleRateHz).toBe(48_000);
    expect(fileSeconds).toBe(1);
    expect(channels[0]!.length).toBe(48_000);
    for (let i = 1000; i < 47_000; i += 331) {
      expect(channels[0]![i]).toBeCloseTo(0.5 * Math.sin((2 * Math.PI * i) / 48), 3);
    }
  });

  it("lets no 30 kHz tone fold into the audible band", async () => {
    const { channels } = await decode(tone(30_000));
    expect(Math.max(...channels[0]!.subarray(500, 47_500))).toBeLessThan(0.5e-3);
  });
});

describe("decodeAudio(wav) refuses a header that cannot be true", () => {
  const data = new Uint8Array(1 << 20);
  it.each([
    ["65535 channels in blocks of 1 byte", { channelCount: 65_535, blockBytes: 1 }],
    ["0 channels", { channelCount: 0, blockBytes: 2 }],
    ["blocks of 3 bytes for 16-bit stereo", { channelCount: 2, blockBytes: 3 }],
    ["sample rate 0", { channelCount: 1, sampleRateHz: 0 }],
    ["sample rate 4294967295", { channelCount: 1, sampleRateHz: 4_294_967_295 }],
    ["12 kHz of 64-bit integers", { channelCount: 1, bits: 64, sampleRateHz: 12_000 }],
  ])("%s", async (_, fields) => {
    const started = process.memoryUsage().arrayBuffers;
    await expect(decode({ tag: 1, bits: 16, data, ...fields })).rejects.toMatchObject({
      code: "recording-damaged",
    });
    expect(process.memoryUsage().arrayBuffers - started).toBeLessThan(64 * 1024 * 1024);
  });

  it("a codec in WAV that is not linear, by name", async () => {
    await expect(decode({ tag: 2, bits: 4, channelCount: 1, data })).rejects.toMatchObject({
      code: "format-unsupported",
      message: expect.stringContaining("Microsoft ADPCM") as string,
    });
  });

  it("a header without sound behind it", async () => {
    const empty: WavRecipe = { tag: 1, bits: 16, channelCount: 1, data: new Uint8Array(0) };
    await expect(decode(empty)).rejects.toMatchObject({ code: "file-empty" });
  });

  it("samples that are no numbers", async () => {
    const broken = floatCodes([0, Number.NaN, 0, Number.POSITIVE_INFINITY], 4);
    await expect(decode({ tag: 3, bits: 32, channelCount: 1, data: broken })).rejects.toMatchObject(
      { code: "recording-damaged" },
    );
  });
});
