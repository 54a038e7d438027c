import { describe, expect, it } from "vitest";
import { createRandom } from "../../src/foundation/random.js";
import { excessKurtosis, variance } from "../../src/foundation/statistics.js";
import { bandMean, welch } from "../../src/signal/spectrum.js";
import { controlGain } from "../../src/synthesis/channel/gain-control.js";
import { suppressNoise } from "../../src/synthesis/channel/noise-suppression.js";
import { drawPath, sendAlong } from "../../src/synthesis/channel/path.js";
import { hearThrough, recordWith, type PhoneDraw } from "../../src/synthesis/channel/phone.js";
import { reverberate } from "../../src/synthesis/channel/room.js";
import { rms } from "../../src/synthesis/sound/level.js";
import { pinkNoise, whiteNoise } from "../../src/synthesis/sound/noise.js";
import { addRing } from "../../src/synthesis/sound/strike.js";

const random = () => createRandom(5);

const phone: PhoneDraw = {
  highPassOrder: 2,
  highPassHz: 100,
  bells: [],
  gainControl: null,
  noiseSuppressionDb: 0,
  levelDb: -20,
  clippingDb: null,
  sampleRateHz: 48_000,
};

const impulse = (length: number): Float64Array => {
  const out = new Float64Array(length);
  out[0] = 1;
  return out;
};

/** Gain at a frequency from an impulse response: |Σ h e^(-iωn)|, dB. */
function gainDb(response: Float64Array, hz: number): number {
  let re = 0;
  let im = 0;
  for (let n = 0; n < response.length; n++) {
    re += response[n]! * Math.cos((2 * Math.PI * hz * n) / 48_000);
    im += response[n]! * Math.sin((2 * Math.PI * hz * n) / 48_000);
  }
  return 10 * Math.log10(re * re + im * im);
}

describe("whiteNoise", () => {
  it("is white, of unit variance and nearly normal", () => {
    const noise = whiteNoise(400_000, random());
    expect(variance(noise)).toBeCloseTo(1, 2);
    expect(Math.abs(excessKurtosis(noise))).toBeLessThan(0.35);
    const spectrum = welch(noise, 48_000);
    const low = bandMean(spectrum, 100, 3000);
    expect(10 * Math.log10(bandMean(spectrum, 15_000, 23_000) / low)).toBeCloseTo(0, 0);
  });
});

describe("pinkNoise", () => {
  it("falls by 3 dB per octave", () => {
    const spectrum = welch(pinkNoise(600_000, random()), 48_000);
    for (const hz of [200, 800, 3200]) {
      const octave = (low: number) => 10 * Math.log10(bandMean(spectrum, low, 1.2 * low));
      expect(Math.abs(octave(hz) - octave(2 * hz) - 3.01)).toBeLessThan(0.8);
    }
  });
});

describe("addRing", () => {
  it("is the damped sine of its closed form, from between two samples on", () => {
    const out = new Float64Array(2000);
    addRing(out, 100.25, 0.7, { hz: 850, decaySeconds: 0.01, gain: 1 });
    for (const i of [100, 101, 150, 700, 1500]) {
      const t = (i - 100.25) / 48_000;
      const exact = t < 0 ? 0 : 0.7 * Math.exp(-t / 0.01) * Math.sin(2 * Math.PI * 850 * t);
      expect(out[i]).toBeCloseTo(exact, 9);
    }
  });
});

describe("drawPath and sendAlong", () => {
  it("keep the level of white noise within half a decibel", () => {
    for (let seed = 1; seed <= 4; seed++) {
      const noise = whiteNoise(480_000, createRandom(seed));
      const out = new Float64Array(noise.length);
      sendAlong(drawPath(createRandom(seed), [200, 5000]), noise, out);
      expect(Math.abs(20 * Math.log10(rms(out) / rms(noise)))).toBeLessThan(0.5);
    }
  });
});

describe("reverberate", () => {
  // Backward integration of the squared response (Schroeder; ISO 3382-1), slope from -5 to -25 dB.
  function reverberationTime(response: Float64Array): number {
    let rest = 0;
    const energy = response
      .slice()
      .reverse()
      .map((x) => (rest += x * x))
      .reverse();
    const at = (db: number) => energy.findIndex((e) => 10 * Math.log10(e / energy[0]!) < db);
    return (3 * (at(-25) - at(-5))) / 48_000;
  }

  it("decays by 60 dB in the time asked for and leaves the direct sound in the ratio asked for", () => {
    const response = impulse(60_000);
    const other = new Float64Array(60_000);
    const room = { rt60Seconds: 0.5, directToReverberantDb: 3 };
    reverberate(response, other, room, random());
    const tail = response.slice();
    tail[0]! -= 1;
    const tailEnergy = tail.reduce((sum, x) => sum + x * x, 0);
    expect(-10 * Math.log10(tailEnergy)).toBeCloseTo(3, 0);
    expect(Math.abs(reverberationTime(tail) / 0.5 - 1)).toBeLessThan(0.12);
    expect(Math.max(...other.map(Math.abs))).toBeLessThan(1e-9);
  });
});

describe("hearThrough", () => {
  it.each([1, 2, 3, 4])("has a high pass of order %i", (highPassOrder) => {
    const response = hearThrough({ ...phone, highPassOrder }, impulse(48_000));
    // Far below its corner an order-n high pass falls by 6.02 n dB per octave (textbook).
    const slope = gainDb(response, 24) - gainDb(response, 12);
    expect(Math.abs(slope - 6.02 * highPassOrder)).toBeLessThan(0.6);
    expect(Math.abs(gainDb(response, 3000))).toBeLessThan(0.1);
  });
});

describe("recordWith", () => {
  it("brings the clip to the phone's level and rate", () => {
    const noise = whiteNoise(96_000, random());
    const slow = recordWith({ ...phone, sampleRateHz: 16_000 }, noise, random());
    expect(slow.length).toBe(32_000);
    const heard = recordWith({ ...phone, levelDb: -30 }, noise, random());
    expect(20 * Math.log10(rms(Float64Array.from(heard)))).toBeCloseTo(-30, 1);
  });

  it("clips hard when the phone is overdriven, and never passes full scale otherwise", () => {
    const noise = whiteNoise(96_000, random());
    const share = (samples: Float32Array) =>
      samples.filter((x) => Math.abs(x) >= 0.9999).length / samples.length;
    expect(share(recordWith({ ...phone, clippingDb: 10 }, noise, random()))).toBeGreaterThan(0.02);
    const loud = recordWith({ ...phone, levelDb: -6 }, noise, random());
    expect(Math.max(...loud.map(Math.abs))).toBeLessThanOrEqual(1);
  });
});

describe("controlGain", () => {
  it("evens out loud and quiet stretches by its ratio", () => {
    const samples = whiteNoise(192_000, random());
    for (let i = 96_000; i < samples.length; i++) samples[i]! *= 0.1;
    controlGain(samples, { attackSeconds: 0.01, releaseSeconds: 0.3, ratio: 4 });
    const loud = rms(samples.subarray(20_000, 96_000));
    const quiet = rms(samples.subarray(150_000));
    // 20 dB apart before, 20/4 after.
    expect(Math.abs(20 * Math.log10(loud / quiet) - 5)).toBeLessThan(1.5);
  });
});

describe("suppressNoise", () => {
  it("turns steady noise down and leaves a burst over it nearly alone", () => {
    const samples = whiteNoise(240_000, random());
    const before = samples.slice();
    for (let i = 150_000; i < 154_800; i++) {
      const burst = 20 * Math.sin((2 * Math.PI * 1000 * i) / 48_000);
      samples[i]! += burst;
      before[i]! += burst;
    }
    suppressNoise(samples, 12);
    const drop = (from: number, to: number) =>
      20 * Math.log10(rms(samples.subarray(from, to)) / rms(before.subarray(from, to)));
    expect(drop(100_000, 148_000)).toBeLessThan(-3);
    expect(Math.abs(drop(151_000, 153_800))).toBeLessThan(1);
  });
});
