import { describe, expect, it } from "vitest";
import { keepRhythm, soundClips } from "../../src/answer/picture-data-sounds.js";
import type { Evidence } from "../../src/evidence/evidence.js";
import { decodeAudio } from "../../src/recording/decode/decode-audio.js";
import { bytesSource } from "../../src/recording/decode/byte-source.js";
import { flacBytes } from "../../src/recording/encode/flac-bytes.js";
import { makeContext, type ContextOptions } from "../evidence/make-context.js";
import { lcgNoise } from "../signal/lcg.js";

const RATE = 16_000;
const SECONDS = 24;

const nothingHeard = {
  lines: [],
  features: { "turn-modulation-p": { value: null, quality: 0, missing: "speed" } },
} as unknown as Evidence;

const turnHeard = {
  lines: [],
  features: { "turn-modulation-p": { value: 1e-4, quality: 1 } },
} as unknown as Evidence;

function clipsOf(options: ContextOptions, evidence = nothingHeard, speech = false) {
  const made = makeContext(
    lcgNoise(SECONDS * RATE).map((x) => 0.05 * x),
    options,
  );
  const problem = { code: "speech", message: "m", severity: "limits" } as const;
  const context = speech
    ? { ...made, recording: { ...made.recording, problems: [problem] } }
    : made;
  return soundClips(context, evidence, null, { character: "grinding", suspects: ["drum-bearing"] });
}

/** Strength of a modulation at a rate, share of the mean power. */
function modulation(samples: ArrayLike<number>, hz: number): number {
  let [re, im, power] = [0, 0, 0];
  for (let i = 0; i < samples.length; i++) {
    const p = samples[i]! ** 2;
    power += p;
    re += p * Math.cos((2 * Math.PI * hz * i) / RATE);
    im += p * Math.sin((2 * Math.PI * hz * i) / RATE);
  }
  return (2 * Math.hypot(re, im)) / power;
}

describe("clips to listen to", () => {
  it("are at most eight seconds, of one loudness, and never clip", () => {
    const { clips, notes } = clipsOf({ drumHz: 20 }, turnHeard);
    expect(clips.map(({ id }) => id)).toEqual(["recording", "band", "rhythm"]);
    expect(notes).toEqual([]);
    const loudness = clips.map(({ samples }) => {
      expect(samples.length / RATE).toBeLessThanOrEqual(8);
      expect(samples.every((x) => Math.abs(x) <= 0.9)).toBe(true);
      return Math.sqrt(samples.reduce((sum, x) => sum + x * x, 0) / samples.length);
    });
    for (const rms of loudness) expect(rms / loudness[0]!).toBeCloseTo(1, 1);
  });

  it("hold no rhythm where none was heard", () => {
    expect(clipsOf({ drumHz: 20 }).clips.map(({ id }) => id)).toEqual(["recording", "band"]);
  });

  it("are cut a second away from where somebody speaks, and say so", () => {
    const usable = [[0, 6] as const, [12, 24] as const];
    const { clips, notes } = clipsOf({ usable, quality: { speechShare: 0.2 } }, nothingHeard, true);
    const { fromSeconds, samples } = clips[0]!;
    expect(fromSeconds).toBeGreaterThanOrEqual(13);
    expect(fromSeconds + samples.length / RATE).toBeLessThanOrEqual(23);
    expect(notes.join(" ")).toMatch(/speaks/);
  });

  it("are left out where speech leaves no stretch, or fills much of the recording", () => {
    const short = clipsOf(
      { usable: [[0, 3.5]], quality: { speechShare: 0.1 } },
      nothingHeard,
      true,
    );
    const much = clipsOf({ quality: { speechShare: 0.5 } }, nothingHeard, true);
    for (const { clips, notes } of [short, much]) {
      expect(clips).toEqual([]);
      expect(notes.join(" ")).toMatch(/speaks/);
    }
  });

  it("keep the beat that is asked for and iron out another one", () => {
    const both = lcgNoise(8 * RATE).map((x, i) => {
      const t = i / RATE;
      return (
        x * (1 + 0.5 * Math.cos(2 * Math.PI * 9 * t)) * (1 + 0.5 * Math.cos(2 * Math.PI * 23 * t))
      );
    });
    const kept = keepRhythm(both, RATE, (i) => (9 * i) / RATE);
    expect(modulation(kept, 9)).toBeGreaterThan(0.6 * modulation(both, 9));
    expect(modulation(kept, 23)).toBeLessThan(0.1 * modulation(both, 23));
  });
});

describe("a clip's FLAC file", () => {
  it("gives every sample back to 12 bits, in less room than 16-bit samples take", async () => {
    const samples = Float32Array.from(
      lcgNoise(2 * RATE),
      (x, i) => 0.1 * x + 0.3 * Math.sin(i / 9),
    );
    const bytes = await flacBytes(samples, RATE);
    expect(new TextDecoder().decode(bytes.subarray(0, 4))).toBe("fLaC");
    const { channels, sampleRateHz } = await decodeAudio(bytesSource(bytes));
    expect(sampleRateHz).toBe(RATE);
    expect(channels[0]!.length).toBe(samples.length);
    const worst = channels[0]!.reduce((most, x, i) => Math.max(most, Math.abs(x - samples[i]!)), 0);
    expect(worst).toBeLessThanOrEqual(1.01 / 2 ** 12);
    expect(bytes.length).toBeLessThan(2 * samples.length);
  });
});
