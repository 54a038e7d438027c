import { beforeAll, describe, expect, it } from "vitest";
import { hearPair } from "../../src/answer/compare-recordings.js";
import { comparisonPictures } from "../../src/answer/compare-pictures.js";
import type { ComparisonPictures } from "../../src/answer/compare-picture-data.js";
import { pairedClips } from "../../src/answer/compare-sounds.js";
import type { ClipToDiagnose } from "../../src/answer/diagnose-recordings.js";
import type { SoundClip } from "../../src/answer/picture-data.js";
import { washerById } from "../../src/machine/washers.js";
import { assessRecording } from "../../src/recording/assess.js";
import { butterworth, filterThrough } from "../../src/signal/butterworth.js";
import { makeContext } from "../evidence/make-context.js";
import { lcgNoise } from "../signal/lcg.js";

const RATE = 16_000;
const SECONDS = 9;

const white = (seed: number): Float64Array => lcgNoise(SECONDS * RATE, seed).map((x) => 0.1 * x);

/** Noise between 2 and 4 kHz. */
function octave(seed: number): Float64Array {
  const high = filterThrough(white(seed), butterworth("high", 4, 2000 / RATE));
  return filterThrough(high, butterworth("low", 4, 4000 / RATE));
}

const sum = (a: Float64Array, b: Float64Array, gain: number): Float64Array =>
  a.map((x, i) => x + gain * b[i]!);

function clipOf(samples: Float64Array): ClipToDiagnose {
  const recording = assessRecording({
    channels: [Float32Array.from(samples)],
    sampleRateHz: RATE,
    channelCount: 1,
    codec: "WAV, PCM",
    fileSeconds: SECONDS,
    problems: [],
  });
  return { file: "clip.wav", sha256: "", recording, phase: "spin" };
}

const OPTIONS = {
  washer: washerById("front-load-direct"),
  machineGiven: true,
  pictures: "with-clips",
} as const;

// Three times the amplitude in the octave on top of the noise itself: 10·lg(1 + 9) = 10 dB.
const loud = sum(white(1), octave(2), 3);
const quiet = white(3).map((x) => 0.25 * x);

let pictures: ComparisonPictures;

beforeAll(() => {
  pictures = comparisonPictures(hearPair(clipOf(loud), clipOf(quiet), OPTIONS), OPTIONS);
});

const change = (hz: number): number => {
  const band = pictures.bands.find(({ midHz }) => Math.abs(midHz / hz - 1) < 0.1)!;
  return band.afterDb - band.beforeDb;
};

describe("spectra before and after", () => {
  it("show 10 dB less where 10 dB were taken away, and no change elsewhere, at a fourth of the gain", () => {
    for (const hz of [250, 500, 800, 1250, 6300]) expect(Math.abs(change(hz))).toBeLessThan(1.5);
    for (const hz of [2500, 3150]) expect(Math.abs(change(hz) + 10)).toBeLessThan(1.5);
  });

  // A third octave is a fixed share of its middle, IEC 61260-1:2014: ten of them, a tenfold width.
  it("rise by 10 dB a decade for white noise", () => {
    const at = (hz: number) => pictures.bands.find(({ midHz }) => Math.abs(midHz / hz - 1) < 0.1)!;
    expect(Math.abs(at(5000).afterDb - at(500).afterDb - 10)).toBeLessThan(1);
  });
});

describe("spectrograms before and after", () => {
  it("share their colours, their pitches and their middle, whatever the gain", () => {
    const { before, after } = pictures.spectrograms;
    expect([before.quietDb, before.loudDb]).toEqual([after.quietDb, after.loudDb]);
    expect([before.highHz, before.rows]).toEqual([after.highHz, after.rows]);
    const level = (side: typeof before, hz: number): number =>
      side.octaves.find(({ centreHz }) => centreHz === hz)!.levelsDb[2]!;
    expect(Math.abs(level(before, 500) - level(after, 500))).toBeLessThan(2);
    expect(level(before, 2000) - level(after, 2000)).toBeGreaterThan(4);
  });
});

const rms = ({ samples }: SoundClip): number =>
  Math.sqrt(samples.reduce((total, x) => total + x * x, 0) / samples.length);
const dB = (a: SoundClip, b: SoundClip): number => 20 * Math.log10(rms(a) / rms(b));

describe("clips before and after", () => {
  const pair = (band: readonly [number, number] | null) =>
    pairedClips({ before: makeContext(loud), after: makeContext(quiet) }, band);

  it("are equally loud as a whole, and keep the difference within the band", () => {
    const { before, after } = pair([2000, 4000]);
    expect(before.map(({ id }) => id)).toEqual(["recording", "band"]);
    expect(Math.abs(dB(before[0]!, after[0]!))).toBeLessThan(0.2);
    // Power in the octave: 20 of 26 parts before, 2 of 8 after (white noise fills 8 kHz evenly); the
    // filters' skirts take a decibel.
    const share = 10 * Math.log10(20 / 26 / (2 / 8));
    expect(Math.abs(dB(before[1]!, after[1]!) - share)).toBeLessThan(1.5);
    for (const clip of [...before, ...after]) {
      expect(clip.samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0)).toBeLessThan(0.95);
    }
  });

  it("leave out the band when no unusual noise was heard before", () => {
    const { before, after } = pair(null);
    expect([before.length, after.length]).toEqual([1, 1]);
  });

  it("leave out a recording in which somebody speaks, say why, and play no band then", () => {
    const talked = makeContext(loud, { quality: { speechShare: 0.6 } });
    const { before, after, notes } = pairedClips(
      { before: talked, after: makeContext(quiet) },
      [2000, 4000],
    );
    expect(before).toEqual([]);
    expect(after.map(({ id }) => id)).toEqual(["recording"]);
    expect(notes.join()).toMatch(/^Before: Somebody speaks/);
  });
});
