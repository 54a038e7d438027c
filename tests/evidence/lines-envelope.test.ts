import { describe, expect, it } from "vitest";
import { envelopeOfBand, wholeSpectrum } from "../../src/signal/band-envelope.js";
import { viewsOf } from "../../src/evidence/lines/line-views.js";
import { observeLines } from "../../src/evidence/lines/observe-lines.js";
import { listen } from "../../src/evidence/listen.js";
import { washerById } from "../../src/machine/washers.js";
import { benchContext, benchRecording, benchSound, benchSpeed } from "./lines-bench.js";

/** One-sided amplitude of a line, or the mean at 0 Hz. */
function amplitude(values: Float64Array, rateHz: number, hz: number): number {
  let re = 0;
  let im = 0;
  values.forEach((v, i) => {
    re += v * Math.cos((2 * Math.PI * hz * i) / rateHz);
    im += v * Math.sin((2 * Math.PI * hz * i) / rateHz);
  });
  return ((hz === 0 ? 1 : 2) * Math.hypot(re, im)) / values.length;
}

describe("envelopeOfBand(spectrum, band)", () => {
  it("shows (1 + 0.6 cos 50 Hz) on a carrier as lines of 1.18, 1.2 and 0.18 (closed form)", () => {
    // (1 + m c)² = 1 + m²/2 + 2 m c + (m²/2) cos 100 Hz.
    const rate = 16_384;
    const x = Float64Array.from({ length: rate }, (_, i) => {
      const t = i / rate;
      return (1 + 0.6 * Math.cos(2 * Math.PI * 50 * t)) * Math.cos(2 * Math.PI * 2000 * t);
    });
    const { power, sampleRateHz } = envelopeOfBand(wholeSpectrum(x, rate), [1000, 3000]);
    expect(amplitude(power, sampleRateHz, 0)).toBeCloseTo(1.18, 5);
    expect(amplitude(power, sampleRateHz, 50)).toBeCloseTo(1.2, 5);
    expect(amplitude(power, sampleRateHz, 100)).toBeCloseTo(0.18, 5);
  });

  it("shows a train of decaying bursts with the closed-form ratios of its first four lines", () => {
    // Fourier series of exp(-2at) at 107 per second, a = 800: 2 / sqrt(1 + (2 pi k 107 / 1600)²).
    const rate = 32_768;
    const x = new Float64Array(rate);
    for (let k = -5; k < 107; k++) {
      const start = k / 107;
      for (let i = Math.max(0, Math.ceil(start * rate)); i < rate; i++) {
        const t = i / rate - start;
        if (t > 0.02) break;
        x[i]! += Math.exp(-800 * t) * Math.sin(2 * Math.PI * 5000 * t);
      }
    }
    const { power, sampleRateHz } = envelopeOfBand(wholeSpectrum(x, rate), [100, 16_000]);
    const mean = amplitude(power, sampleRateHz, 0);
    [1.84384, 1.53113, 1.24297, 1.02263].forEach((ratio, k) => {
      const line = amplitude(power, sampleRateHz, 107 * (k + 1)) / mean;
      expect(Math.abs(line / ratio - 1)).toBeLessThan(0.015);
    });
  });
});

describe("modulation over hertz of an inner race that goes through its load once per turn", () => {
  it("stands at the race's rate, one shaft turn to each side, at twice the rate and at the shaft", () => {
    // Shaft 20 Hz, 5.4152 per turn: 20, 88.304, 108.304, 128.304, 216.608 Hz (Randall and Antoni 2011).
    const context = benchContext({
      seconds: 12,
      seed: 3,
      drumHzAt: () => 20,
      bursts: [{ order: 5.4152, db: 0, resonanceHz: 2900, jitter: 0, shaftAm: 0.9 }],
    });
    const axis = viewsOf(context).hertzEnvelope()!;
    for (const hz of [20, 88.304, 108.304, 128.304, 216.608]) {
      const k = Math.round(hz / axis.bin);
      expect(Math.max(...axis.unblanked.slice(k - 1, k + 2))).toBeGreaterThan(20);
    }
    const between = Math.round(98.3 / axis.bin);
    expect(Math.max(...axis.unblanked.slice(between - 1, between + 2))).toBeLessThan(12);
  });
});

describe("observeLines(recording through a speech codec)", () => {
  // Frames of 20 ms: RFC 6716. Their rate is that of a 50 Hz pump.
  const clip = { seconds: 12, seed: 11, drumHzAt: () => 17.3, lineHz: 50 } as const;
  const modulated = benchSound(clip).map(
    (v, i) => v * (1 + 0.5 * Math.cos((2 * Math.PI * 50 * i) / 16_000)),
  );
  const observe = (codec: string) =>
    observeLines(
      listen(
        benchRecording(modulated, codec),
        washerById("front-load-belt-universal"),
        benchSpeed(clip),
        "spin",
      ),
    );

  it("hears noise modulated at 50 Hz as the mains in a lossless file", () => {
    const { features } = observe("wav, PCM");
    expect(features["mains-modulation"]!.value).toBeLessThan(0.01);
    expect(features["mains-modulation"]!.detail!["hz"] as number).toBeCloseTo(50, 0);
  });

  it("does not take the codec's frames for it", () => {
    const { features } = observe("ogg, Opus");
    expect(features["mains-modulation"]!.value ?? 1).toBeGreaterThan(0.01);
  });

  it("does not take frames that fall on a race's rate for a bearing", () => {
    // 13.95 turns a second times 3.585 (outer race, nine balls) is 50 Hz; no mains is heard.
    const still = { seconds: 12, seed: 12, drumHzAt: () => 13.95 } as const;
    const framed = benchSound(still).map((v, i) => v * (i % 320 < 90 ? 1.5 : 1));
    const alarms = (codec: string) =>
      observeLines(
        listen(
          benchRecording(framed, codec),
          washerById("front-load-belt-universal"),
          benchSpeed(still),
          "spin",
        ),
      ).lines.filter(
        ({ line, confounded, pAdjusted }) => !line.healthy && !confounded && pAdjusted < 0.05,
      );
    expect(alarms("wav, PCM").map(({ line }) => line.id)).toContain("drum-bearing/outer/9-ball");
    expect(alarms("ogg, Opus")).toEqual([]);
  });
});
