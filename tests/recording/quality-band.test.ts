import { describe, expect, it } from "vitest";
import { bandOf, brickWall } from "./quality-filters.js";
import { assess, codes, noise, sound, washer } from "./quality-sounds.js";

const same = (a: Float32Array, b: Float32Array): boolean =>
  a.length === b.length && a.every((x, i) => x === b[i]);

describe("assessRecording: band", () => {
  it.each([3400, 7000, 15_500])("finds a cliff at %d Hz in noise with mains lines", (edge) => {
    const x = brickWall(noise(6, 48_000, 0.1), 48_000, [0, edge]);
    const hum = sound(6, 48_000, (i) => 0.3 * Math.sin((2 * Math.PI * 100 * i) / 48_000));
    const band = bandOf(
      x.map((v, i) => v + hum[i]!),
      48_000,
    );
    expect(band[1]).toBeGreaterThan(edge - 120);
    expect(band[1]).toBeLessThan(edge + 120);
  });

  it("finds the low edge of a digital high-pass at 200 Hz", () => {
    const band = bandOf(brickWall(noise(8, 16_000, 0.1), 16_000, [200, 8000]), 16_000);
    expect(band[0]).toBeGreaterThan(185);
    expect(band[0]).toBeLessThan(215);
  });

  it("sees no edge in a spectrum that falls by 12 dB an octave, nor in one with strong lines", () => {
    let first = 0;
    let second = 0;
    const falling = noise(6, 48_000, 1).map((x) => {
      first += 0.03 * (x - first);
      second += 0.03 * (first - second);
      return second + 1e-4 * x;
    });
    expect(bandOf(falling, 48_000)).toEqual([20, 24_000]);
    const lines = noise(6, 48_000, 0.01).map((x, i) =>
      [100, 2000, 5000].reduce(
        (sum, hz) => sum + 0.2 * Math.sin((2 * Math.PI * hz * i) / 48_000),
        x,
      ),
    );
    expect(bandOf(lines, 48_000)).toEqual([20, 24_000]);
  });

  it("never claims more than half the sample rate, and says that 8 kHz is low", () => {
    const recording = assess(washer({ rate: 8000 }), 8000);
    expect(recording.bandHz[1]).toBeLessThanOrEqual(4000);
    expect(recording.bandHz[1]).toBeGreaterThan(3600);
    expect(codes(recording)).toEqual(["low-sample-rate", "narrow-band"]);
  });

  it("does not depend on the gain", () => {
    const x = brickWall(noise(6, 48_000, 0.1), 48_000, [0, 7000]);
    const quiet = x.map((v) => v * 0.003);
    expect(bandOf(quiet, 48_000)[1]).toBeCloseTo(bandOf(x, 48_000)[1], 0);
  });
});

describe("assessRecording: codec", () => {
  // AMR narrow band 3GPP TS 26.071, wide band 26.171: speech codecs. Opus below 8 kHz: RFC 6716, 2.
  it.each([
    ["3gp, AMR-NB", true],
    ["amr, AMR-WB", true],
    ["ogg, Speex", true],
    ["m4a, AAC-LC", false],
    ["mp3, MPEG layer 3", false],
    ["wav, PCM 16 bit", false],
  ])("%s is a voice codec: %s", (codec, voice) => {
    expect(assess(washer({ seconds: 6 }), 16_000, codec).quality.voiceCodec).toBe(voice);
  });

  it("takes Opus for a voice codec only when its band ends at 8 kHz", () => {
    const wide = noise(6, 48_000, 0.1);
    const narrow = brickWall(wide, 48_000, [0, 8000]);
    expect(assess(wide, 48_000, "ogg, Opus").quality.voiceCodec).toBe(false);
    expect(assess(narrow, 48_000, "ogg, Opus").quality.voiceCodec).toBe(true);
  });

  it("does not trust the treble that HE-AAC makes up", () => {
    expect(assess(noise(6, 44_100, 0.1), 44_100, "m4a, HE-AAC").bandHz[1]).toBe(5000);
  });
});

describe("assessRecording: channels", () => {
  const left = washer({ seconds: 8, seed: 3 });
  it("averages equal channels and keeps the level", () => {
    const recording = assess([left, left], 16_000);
    expect(recording.samples[5000]).toBeCloseTo(left[5000]!, 6);
    expect(codes(recording)).toEqual([]);
  });

  it("never cancels an inverted channel, and says so", () => {
    const recording = assess([left, left.map((x) => -x)], 16_000);
    expect(Math.abs(recording.samples[5000]!)).toBeCloseTo(Math.abs(left[5000]!), 6);
    expect(codes(recording)).toEqual(["channels-disagree"]);
  });

  it("leaves out a dead channel on either side", () => {
    const dead = new Float32Array(left.length);
    for (const channels of [
      [dead, left],
      [left, dead],
    ]) {
      expect(same(assess(channels, 16_000).samples, left)).toBe(true);
    }
  });

  it("takes the channel with the wider band when they carry different sound", () => {
    const right = brickWall(washer({ seconds: 8, seed: 4, whine: 0 }), 16_000, [150, 3000]);
    const other = washer({ seconds: 8, seed: 9, whine: 0 });
    const recording = assess([right, other], 16_000);
    expect(same(recording.samples, other)).toBe(true);
    expect(codes(recording)).toContain("channels-disagree");
  });
});
