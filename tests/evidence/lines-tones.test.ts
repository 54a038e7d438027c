import { describe, expect, it } from "vitest";
import type { ToneFinding } from "../../src/evidence/evidence.js";
import { observeLines } from "../../src/evidence/lines/observe-lines.js";
import { listen } from "../../src/evidence/listen.js";
import { createRandom } from "../../src/foundation/random.js";
import { washerById } from "../../src/machine/washers.js";
import {
  benchContext,
  benchRecording,
  benchSound,
  benchSpeed,
  BENCH_RATE_HZ,
  type BenchClip,
} from "./lines-bench.js";

const ramp = (fromHz: number, toHz: number, seconds: number) => (t: number) =>
  fromHz + ((toHz - fromHz) * t) / seconds;

const toneNear = (tones: readonly ToneFinding[], hz: number): ToneFinding | undefined =>
  tones.find((tone) => Math.abs(tone.hz / hz - 1) < 0.01);

const observed = (clip: BenchClip, error = 0.0005) => observeLines(benchContext(clip, { error }));

describe("observeLines(clip).tones", () => {
  const base: BenchClip = { seconds: 12, seed: 21, drumHzAt: ramp(12, 16, 12), lineHz: 50 };

  it("calls a tone of the drum's order speed-locked and a steady one fixed while the drum speeds up", () => {
    const { tones } = observed({
      ...base,
      tones: [
        { order: 37.3, db: -12 },
        { hz: 1230, db: -12 },
      ],
    });
    const locked = toneNear(tones, 37.3 * 14)!;
    expect(locked.scaling).toBe("speed-locked");
    expect(locked.drumOrder!).toBeCloseTo(37.3, 0);
    const fixed = toneNear(tones, 1230)!;
    expect(fixed).toMatchObject({ scaling: "fixed", drumOrder: null });
    expect(fixed.hz).toBeCloseTo(1230, 0);
  });

  it("calls hum line-locked, at rest as in a run-up", () => {
    for (const drumHzAt of [base.drumHzAt, () => 13.7]) {
      const { tones } = observed({ ...base, drumHzAt, humDb: -6 });
      expect(toneNear(tones, 100)!.scaling).toBe("line-locked");
      expect(toneNear(tones, 200)!.scaling).toBe("line-locked");
    }
  });

  it("does not decide when the speed hardly moves", () => {
    const { tones } = observed({
      ...base,
      drumHzAt: ramp(14, 14.02, 12),
      tones: [
        { order: 37.3, db: -12 },
        { hz: 1230, db: -12 },
      ],
    });
    expect(toneNear(tones, 37.3 * 14)!.scaling).toBe("undetermined");
    expect(toneNear(tones, 1230)!.scaling).toBe("undetermined");
  });

  it("reads the tone-to-noise ratio of a tone in white noise", () => {
    // ECMA-418-1: tone power over the noise power in a critical band of 162.2 Hz at 1 kHz. Tone RMS 0.1,
    // noise RMS 0.05 over 8 kHz: 10 lg(0.01 / (0.0025 * 162.2 / 8000)) = 22.95 dB.
    const random = createRandom(5);
    const sound = Float64Array.from(
      { length: 10 * BENCH_RATE_HZ },
      (_, i) =>
        0.05 * random.normal() +
        0.1 * Math.SQRT2 * Math.sin((2 * Math.PI * 1000 * i) / BENCH_RATE_HZ),
    );
    const clip: BenchClip = { seconds: 10, seed: 1, drumHzAt: () => 15 };
    const washer = washerById("front-load-direct");
    const { tones } = observeLines(listen(benchRecording(sound), washer, benchSpeed(clip), "spin"));
    expect(tones[0]!.hz).toBeCloseTo(1000, 0);
    expect(Math.abs(tones[0]!.prominenceDb - 22.95)).toBeLessThan(1);
  });
});

describe("observeLines(clip).features of mains and speed", () => {
  const base: BenchClip = { seconds: 16, seed: 31, drumHzAt: ramp(8, 18, 16), lineHz: 60 };

  it("reads the share and the mean multiple of a pure hum", () => {
    const hum = { ...base, tones: [{ hz: 120, db: 3 }] };
    const { features } = observed(hum);
    expect(features["mains-comb-order"]!.value).toBeCloseTo(2, 1);
    expect(features["mains-comb"]!.value).toBeGreaterThan(10);
    // The hum holds two thirds of the whole power, more of the part under 2 kHz.
    expect(features["mains-share"]!.value).toBeGreaterThan(0.6);
    expect(observed(base).features["mains-share"]!.value).toBeLessThan(0.05);
  });

  it("reads a sound whose amplitude follows the speed as 20 dB per tenfold speed", () => {
    const sound = benchSound(base).map((v, i) => v * base.drumHzAt(i / BENCH_RATE_HZ));
    const washer = washerById("front-load-belt-universal");
    const speed = benchSpeed(base);
    const { features } = observeLines(listen(benchRecording(sound), washer, speed, "spin"));
    expect(Math.abs(features["level-slope"]!.value! - 20)).toBeLessThan(1.5);
    const pumping = benchRecording(sound);
    const muddled = listen(
      { ...pumping, quality: { ...pumping.quality, gainPumping: true } },
      washer,
      speed,
      "spin",
    );
    expect(observeLines(muddled).features["level-slope"]).toMatchObject({
      value: null,
      missing: "gain-pumping",
    });
  });

  it("hears a panel that buzzes at 320 Hz around one speed, and no buzz in a motor's sweep", () => {
    const swell = (i: number): number => {
      const f = base.drumHzAt(i / BENCH_RATE_HZ);
      return 2.5 * Math.exp(-(((f - 13) / 0.5) ** 2));
    };
    const plain = benchSound(base);
    const buzz = plain.map(
      (v, i) => v + swell(i) * Math.sin((2 * Math.PI * 320 * i) / BENCH_RATE_HZ),
    );
    const washer = washerById("front-load-belt-universal");
    const hear = (sound: Float64Array) =>
      observeLines(listen(benchRecording(sound), washer, benchSpeed(base), "spin")).features[
        "fixed-buzz"
      ]!;
    const heard = hear(buzz);
    expect(heard.value).toBeGreaterThan(8);
    expect(Math.abs((heard.detail!["hz"] as number) / 320 - 1)).toBeLessThan(0.12);
    expect(Math.abs((heard.detail!["rpm"] as number) / 780 - 1)).toBeLessThan(0.06);
    const sweep = hear(benchSound({ ...base, tones: [{ order: 25, db: 0 }] }));
    expect(sweep.value).toBeLessThan(7);
  });

  it("tells magnet poles that carry once-per-turn sidebands from clean ones", () => {
    const direct = (side: number) =>
      observeLines(
        benchContext(
          {
            ...base,
            motorRatio: 1,
            tones: [
              { order: 48, db: -3 },
              { order: 47, db: side },
              { order: 49, db: side },
            ],
          },
          { machine: "front-load-direct" },
        ),
      ).features["pole-pass-sidebands"]!;
    expect(direct(-6).value! - direct(-40).value!).toBeGreaterThan(10);
    expect(Math.abs(direct(-6).value!)).toBeLessThan(2.5);
  });

  it("measures raised motor harmonics against the motor's rotation", () => {
    const harmonics = (db: number) =>
      observed({
        ...base,
        motorRatio: 11.3,
        tones: [1, 2, 3, 4, 5, 6].map((k) => ({ order: 11.3 * k, db: k === 1 ? -10 : db })),
      }).features["motor-harmonic-excess"]!;
    // All lines alike are as high over a falling background; 12 dB up is 12 dB more.
    expect(Math.abs(harmonics(-8).value! - harmonics(-20).value! - 12)).toBeLessThan(2.5);
  });
});

describe("observeLines(clip of agitation).features.line-gear-mesh", () => {
  const clip: BenchClip = { seconds: 16, seed: 55, drumHzAt: () => 5, lineHz: 60, humDb: -6 };
  const strokes = (meshHz: number | null, everywhere = false) => {
    const sound = benchSound(clip).map((v, i) => {
      const t = i / BENCH_RATE_HZ;
      const stroking = t % 1.2 < 0.7;
      let mesh = 0;
      if (meshHz !== null && (stroking || everywhere)) {
        for (let h = 1; h <= 5; h++) mesh += (0.3 / h) * Math.sin(2 * Math.PI * h * meshHz * t);
      }
      return v * (stroking ? 1 : 0.4) + mesh;
    });
    const speed = {
      ...benchSpeed(clip),
      drumRpm: null,
      motorRpm: null,
      motorToDrum: null,
      track: [],
    };
    const washer = washerById("top-load-belt");
    return observeLines(listen(benchRecording(sound), washer, speed, "wash")).features[
      "line-gear-mesh"
    ]!;
  };

  it("finds a mesh rate that sounds in the strokes, at the speed of a mains-fed motor", () => {
    // 28.65 Hz motor (4 poles at 60 Hz, 4.5 % slip) times 3.84 per turn is 110 Hz; 9.6 to 20 per pulley
    // turn are possible.
    const heard = strokes(107);
    expect(heard.value).toBeLessThan(0.01);
    expect(heard.detail!["hz"] as number).toBeCloseTo(107, -1);
  });

  it("hears none in strokes without gears, nor in a tone that goes on between the strokes", () => {
    expect(strokes(null).value).toBeGreaterThan(0.05);
    expect(strokes(107, true).value).toBeGreaterThan(0.05);
  });
});

describe("observeLines(clip at 44.1 kHz).features.carrier", () => {
  it("hears a steady 12 kHz tone while the speed moves, and says so when the band is cut", () => {
    const rate = 44_100;
    const random = createRandom(8);
    const samples = Float32Array.from(
      { length: 8 * rate },
      (_, i) => 0.05 * random.normal() + 0.01 * Math.sin((2 * Math.PI * 12_000 * i) / rate),
    );
    const clip: BenchClip = { seconds: 8, seed: 2, drumHzAt: ramp(8, 14, 8) };
    const washer = washerById("front-load-belt-bldc");
    const recording = {
      ...benchRecording([]),
      samples,
      sampleRateHz: rate,
      durationSeconds: 8,
      bandHz: [20, 20_000] as const,
      usable: [{ startSeconds: 0, endSeconds: 8 }],
    };
    const { carrier } = observeLines(listen(recording, washer, benchSpeed(clip), "spin")).features;
    expect(carrier!.value).toBeGreaterThan(10);
    expect(carrier!.detail!["hz"] as number).toBeCloseTo(12_000, -1);
    const cut = { ...recording, bandHz: [20, 7000] as const };
    expect(
      observeLines(listen(cut, washer, benchSpeed(clip), "spin")).features.carrier,
    ).toMatchObject({ value: null, missing: "band" });
  });
});
