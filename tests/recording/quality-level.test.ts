import { describe, expect, it } from "vitest";
import { findClipping } from "../../src/recording/quality/clipping.js";
import { resample } from "../../src/signal/resample.js";
import { assess, codes, compress, noise, sound, washer } from "./quality-sounds.js";

const RATE = 16_000;

describe("findClipping(samples)", () => {
  // A sine clipped at the share c of its peak spends 1 - (2/π) asin(c) of the time at the rail.
  it.each([0.99, 0.9, 0.5])("finds the share of a sine cut at %d of its peak", (cut) => {
    const clean = sound(4, 48_000, (i) => 0.6 * Math.sin((2 * Math.PI * 211.3 * i) / 48_000));
    const clipped = clean.map((x) => Math.max(-0.6 * cut, Math.min(0.6 * cut, x)));
    const expected = 1 - (2 / Math.PI) * Math.asin(cut);
    expect(findClipping(clipped, 48_000).share).toBeGreaterThan(0.85 * expected);
    expect(findClipping(clipped, 48_000).share).toBeLessThan(1.1 * expected);
    expect(findClipping(clean, 48_000).share).toBe(0);
  });

  it("is not fooled by a slow wave rounded to 16 bits, whose crest stands still", () => {
    const coarse = sound(4, 48_000, (i) => {
      const x = 0.02 * Math.sin((2 * Math.PI * 50 * i) / 48_000);
      return Math.round(x * 32_768) / 32_768;
    });
    expect(findClipping(coarse, 48_000).share).toBe(0);
  });

  it.each([1e-4, 3e-4, 1e-3])(
    "is not fooled by hum with hiss of %d, whose crest has flat spots",
    (rms) => {
      const hum = noise(6, RATE, rms, 3).map(
        (x, i) => x + 0.3 * Math.sin((2 * Math.PI * 90 * i) / RATE),
      );
      expect(findClipping(hum, RATE).share).toBe(0);
    },
  );

  it("finds clipped tops that a low-pass has rippled, and not their clean original", () => {
    const hiss = noise(6, 48_000, 0.02, 7);
    const clean = hiss.map((x, i) => x + 0.4 * Math.sin((2 * Math.PI * 143 * i) / 48_000));
    const rail = 0.36;
    const clipped = clean.map((x) => Math.max(-rail, Math.min(rail, x)));
    const soften = (x: Float32Array): Float32Array =>
      Float32Array.from(resample(resample(x, 48_000, 32_000), 32_000, 48_000));
    expect(findClipping(soften(clipped), 48_000).share).toBeGreaterThan(0.01);
    expect(findClipping(soften(clean), 48_000).share).toBe(0);
  });
});

describe("assessRecording: gain", () => {
  const tumbling = { seconds: 24, knock: 8, drumHz: () => 0.8 };
  it.each([
    ["10 ms / 0.5 s, 4:1", { attackSeconds: 0.01, releaseSeconds: 0.5, ratio: 4 }],
    ["5 ms / 0.25 s, 8:1", { attackSeconds: 0.005, releaseSeconds: 0.25, ratio: 8 }],
    ["2 ms / 0.1 s, 6:1", { attackSeconds: 0.002, releaseSeconds: 0.1, ratio: 6 }],
  ])("hears a compressor of %s duck after knocks", (_, law) => {
    const squeezed = compress(washer(tumbling), RATE, { ...law, limitDb: -34 });
    expect(assess(squeezed, RATE).quality.gainPumping).toBe(true);
    expect(codes(assess(squeezed, RATE))).toContain("gain-pumping");
  });

  it("stays quiet about knocks, a ramp, and noise that swells with the drum", () => {
    const sounds = [
      washer(tumbling),
      washer({ ...tumbling, seed: 2, drumHz: () => 1.2, knock: 3 }),
      washer({ drumHz: (t) => 0.8 + t, knock: 2 }),
      washer({ drumHz: (t) => (t % 8 < 5 ? 0.9 : 0), seconds: 24, knock: 4 }),
    ];
    expect(sounds.map((x) => assess(x, RATE).quality.gainPumping)).toEqual(sounds.map(() => false));
  });
});

describe("assessRecording: noise suppression", () => {
  it("notices a roar that sinks in the first two seconds while the knocks stay", () => {
    const roar = washer({ seconds: 15, knock: 0, whine: 0, drumHz: () => 1.2 });
    const knocks = washer({ seconds: 15, knock: 12, whine: 0, drumHz: () => 1.2 });
    const thinned = knocks.map((x, i) => {
      const gain = 10 ** (-18 / 20);
      const t = i / RATE;
      const kept = t < 0.7 ? 1 : Math.max(gain, 1 - (t - 0.7));
      return x - roar[i]! + kept * roar[i]!;
    });
    expect(assess(thinned, RATE).quality.noiseSuppressed).toBe(true);
    expect(assess(knocks, RATE).quality.noiseSuppressed).toBe(false);
  });
});

describe("assessRecording: silence", () => {
  it("takes out a pause of 3 s and says its share, at any gain", () => {
    const x = washer({ seconds: 15 }).map((v, i) => (i > 6 * RATE && i < 9 * RATE ? v * 0.01 : v));
    for (const gain of [1, 0.03]) {
      const recording = assess(
        x.map((v) => gain * v),
        RATE,
      );
      expect(recording.quality.silentShare).toBeCloseTo(0.2, 1);
      expect(recording.usable).toHaveLength(2);
      expect(recording.usable[0]!.endSeconds).toBeGreaterThan(5.6);
      expect(recording.usable[0]!.endSeconds).toBeLessThan(6.05);
      expect(recording.usable[1]!.startSeconds).toBeGreaterThan(8.95);
    }
  });

  it("finds no silence in a steady machine or in a ramp", () => {
    expect(assess(washer(), RATE).quality.silentShare).toBe(0);
    const ramp = assess(washer({ drumHz: (t) => 1 + t }), RATE);
    expect(ramp.quality.silentShare).toBeLessThan(0.1);
  });

  it("blocks a file of zeros and one of rounding noise", () => {
    for (const x of [new Float32Array(10 * RATE), noise(10, RATE, 1 / 32_768 / Math.sqrt(12))]) {
      const [first] = assess(x, RATE).problems;
      expect(first).toMatchObject({ code: "silent", severity: "blocks" });
    }
  });
});

describe("assessRecording: length", () => {
  it("blocks under 2 s, limits under 5 s, and lets 6 s pass", () => {
    const severity = (seconds: number): string | undefined =>
      assess(washer({ seconds }), RATE).problems.find((p) => p.code === "too-short")?.severity;
    expect([1.5, 4, 6].map(severity)).toEqual(["blocks", "limits", undefined]);
  });

  it("survives recordings of nothing and of a few samples", () => {
    for (const n of [0, 1, 7, 300, 2000]) {
      const recording = assess(noise(n / RATE, RATE, 0.1), RATE);
      expect(recording.problems[0]!.severity).toBe("blocks");
      expect(recording.samples).toHaveLength(n);
    }
  });
});
