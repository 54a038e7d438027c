import { describe, expect, it } from "vitest";
import { drumClockOf, listen } from "../../src/evidence/listen.js";
import { createRandom } from "../../src/foundation/random.js";
import { mean } from "../../src/foundation/statistics.js";
import { washerById } from "../../src/machine/washers.js";
import type { Recording } from "../../src/recording/recording.js";
import { turnsAt } from "../../src/signal/angular.js";
import type { SpeedEstimate, SpeedPoint } from "../../src/speed/speed-estimate.js";

const WASHER = washerById("front-load-belt-universal");

const recordingOf = (samples: Float32Array, sampleRateHz: number): Recording => ({
  samples,
  sampleRateHz,
  durationSeconds: samples.length / sampleRateHz,
  channels: 1,
  codec: "wav, PCM",
  bandHz: [20, sampleRateHz / 2],
  problems: [],
  usable: [{ startSeconds: 0, endSeconds: samples.length / sampleRateHz }],
  quality: {
    clippedShare: 0,
    gainPumping: false,
    noiseSuppressed: false,
    speechShare: 0,
    silentShare: 0,
    voiceCodec: false,
  },
});

const speedOf = (track: readonly SpeedPoint[], typicalRpm: number | null): SpeedEstimate => ({
  drumRpm: typicalRpm === null ? null : { value: typicalRpm, low: typicalRpm, high: typicalRpm },
  motorRpm: null,
  motorToDrum: null,
  lineHz: null,
  lineCombDb: null,
  track,
  hopSeconds: 0.25,
  movement: "unknown",
  spanRpm: null,
  relativeError: 0.001,
  notes: [],
  alternative: null,
});

const points = (seconds: number, rpmAt: (timeSeconds: number) => number | null): SpeedPoint[] =>
  Array.from({ length: Math.floor(seconds / 0.25) + 1 }, (_, i) => ({
    timeSeconds: i / 4,
    drumRpm: rpmAt(i / 4),
  }));

describe("drumClockOf(speed, seconds)", () => {
  it("counts the turns of a run-up: 300 to 1200 rpm in 30 s is 375 turns", () => {
    // By hand: mean speed 750 rpm = 12.5 turns per second for 30 s.
    const clock = drumClockOf(
      speedOf(
        points(30, (t) => 300 + 30 * t),
        750,
      ),
      30,
    )!;
    expect(turnsAt(clock, 30)).toBeCloseTo(375, 6);
    expect(turnsAt(clock, 10)).toBeCloseTo(75, 6);
  });

  it("bridges a gap of one second but stands still over a gap of four", () => {
    const short = points(20, (t) => (t > 5 && t < 6 ? null : 600));
    const long = points(20, (t) => (t > 5 && t < 9 ? null : 600));
    expect(turnsAt(drumClockOf(speedOf(short, 600), 20)!, 20)).toBeCloseTo(200, 1);
    expect(turnsAt(drumClockOf(speedOf(long, 600), 20)!, 20)).toBeCloseTo(160, 1);
  });

  it("is null without any speed, and steady at a told speed that left no track", () => {
    expect(drumClockOf(speedOf([], null), 10)).toBeNull();
    expect(turnsAt(drumClockOf(speedOf([], 1797), 10)!, 10)).toBeCloseTo(299.5, 6);
  });
});

describe("listen(recording, washer, speed, phase)", () => {
  it("keeps a 1 kHz tone's place and power at 16 kHz, and gives its band's envelope", () => {
    const tone = Float32Array.from({ length: 4 * 44_100 }, (_, i) =>
      Math.sin((2 * Math.PI * 1500 * i) / 44_100),
    );
    const heard = listen(recordingOf(tone, 44_100), WASHER, speedOf([], null), "unknown");
    expect(heard.sound.length).toBe(64_000);
    // |analytic signal|² of a unit sine is 1; its mean square is 1/2.
    expect(mean(heard.envelope("octave-1k").power)).toBeCloseTo(1, 2);
    expect(mean(heard.envelope("octave-2k").power)).toBeLessThan(1e-3);
    expect(heard.envelope("octave-1k")).toBe(heard.envelope("octave-1k"));
  });

  it("names the lines to look for at the speed found", () => {
    const still = recordingOf(new Float32Array(16_000), 16_000);
    const { expectedLines } = listen(still, WASHER, speedOf([], 1200), "spin");
    const belt = expectedLines.find(({ kind }) => kind === "belt-pass")!;
    // The belt turns about 0.7 times per drum turn: near 14 Hz at 1200 rpm.
    expect(belt.hz).toBeGreaterThan(12);
    expect(belt.hz).toBeLessThan(16);
  });

  it("marks what is not usable in the mask", () => {
    const noise = new Float32Array(16_000 * 3).fill(0.1);
    const recording = {
      ...recordingOf(noise, 16_000),
      usable: [{ startSeconds: 1, endSeconds: 2.5 }],
    };
    const { usableMask, maskHopSeconds } = listen(recording, WASHER, speedOf([], null), "unknown");
    const usableSeconds = usableMask.reduce((sum, v) => sum + v, 0) * maskHopSeconds;
    expect(usableSeconds).toBeCloseTo(1.5, 6);
    expect(usableMask[Math.round(0.5 / maskHopSeconds)]).toBe(0);
    expect(usableMask[Math.round(2 / maskHopSeconds)]).toBe(1);
  });

  it("cuts five minutes to the loudest four and moves speed and usable stretches along", () => {
    const random = createRandom(3);
    const rate = 8000;
    const samples = new Float32Array(300 * rate);
    for (let i = 0; i < samples.length; i++) {
      samples[i] = (i < 50 * rate ? 0.001 : 0.1) * random.normal();
    }
    const heard = listen(
      recordingOf(samples, rate),
      WASHER,
      speedOf(
        points(300, (t) => 100 + t),
        200,
      ),
      "spin",
    );
    const { recording, speed } = heard;
    expect(recording.durationSeconds).toBe(240);
    expect(speed.track[0]!.drumRpm).toBeGreaterThanOrEqual(150);
    expect(speed.track[0]!.timeSeconds).toBeCloseTo(0, 6);
    expect(recording.usable).toEqual([{ startSeconds: 0, endSeconds: 240 }]);
    expect(Math.abs(recording.samples[10]!)).toBeLessThan(1);
    expect(mean(recording.samples.map((v) => v * v))).toBeCloseTo(0.01, 3);
  });
});
