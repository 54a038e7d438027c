import { describe, expect, it } from "vitest";
import { createRandom } from "../../src/foundation/random.js";
import { assess, codes, sound, washer, withSpeech } from "./quality-sounds.js";

const RATE = 16_000;

describe("assessRecording: speech", () => {
  it.each([
    ["a spin", 0.15, () => 10],
    ["a spin not much softer", 0.1, () => 10],
    ["tumbling", 0.07, () => 0.8],
    ["a ramp", 0.15, (t: number) => 1 + t / 2],
  ])("finds two sentences over %s and takes them out", (_, rms, drumHz) => {
    const recording = assess(withSpeech(washer({ drumHz, seed: 5 }), 6, rms), RATE);
    expect(codes(recording)).toContain("speech");
    expect(recording.quality.speechShare).toBeGreaterThan(0.15);
    expect(recording.quality.speechShare).toBeLessThan(0.45);
    const middle = recording.usable.some((it) => it.startSeconds < 9 && it.endSeconds > 9);
    expect(middle).toBe(false);
    expect(recording.usable[0]!.endSeconds).toBeGreaterThan(5);
  });

  it("hears no voice in whine, ramps, strokes, knocks and squeals", () => {
    const random = createRandom(4);
    const squeal = washer().map((x, i) => {
      const t = i / RATE;
      const on = Math.max(0, Math.sin(2 * Math.PI * 0.7 * t));
      return x + 0.05 * on * Math.sin(2 * Math.PI * 1500 * t + 3 * Math.sin(9 * t));
    });
    const machines = [
      washer({ whine: 1 }),
      washer({ whine: 1, drumHz: (t) => 1 + 0.8 * t }),
      washer({ whine: 1, drumHz: (t) => 18 * Math.exp(-t / 8) }),
      washer({ whine: 1.5, drumHz: (t) => 3 * Math.abs(Math.sin(2 * Math.PI * 0.6 * t)) }),
      washer({ knock: 6, drumHz: () => 1.2 }),
      washer({ knock: 4, whine: 1, drumHz: () => 4 + 0.2 * random.normal() }),
      squeal,
    ];
    expect(machines.map((x) => assess(x, RATE).quality.speechShare)).toEqual(machines.map(() => 0));
  });
});

describe("assessRecording: handling", () => {
  const bump = (at: number, height: number) => (i: number) => {
    const age = i / RATE - at;
    return age < 0 || age > 1
      ? 0
      : height * Math.exp(-age / 0.08) * Math.sin(2 * Math.PI * 45 * age);
  };
  it("takes out a bump against the phone", () => {
    const hit = bump(7, 0.6);
    const recording = assess(
      washer().map((x, i) => x + hit(i)),
      RATE,
    );
    expect(codes(recording)).toEqual(["handling"]);
    expect(recording.usable).toHaveLength(2);
    expect(recording.usable[0]!.endSeconds).toBeLessThan(7);
    expect(recording.usable[1]!.startSeconds).toBeLessThan(8);
  });

  it("leaves a tub that knocks once a turn alone, all through or in passing", () => {
    const always = washer({ drumHz: () => 1.2, knock: 8 });
    const knocks = [8, 8.4, 8.8, 9.2, 9.6].map((at) => bump(at, 0.6));
    const passing = washer().map((x, i) => knocks.reduce((sum, hit) => sum + hit(i), x));
    for (const x of [always, passing]) expect(codes(assess(x, RATE))).not.toContain("handling");
  });
});

describe("assessRecording: cuts and damage", () => {
  it("finds where two recordings were joined, and no cut where a pump starts", () => {
    const first = sound(6, RATE, (i) => 0.3 * Math.sin((2 * Math.PI * 90 * i) / RATE + 1));
    const second = washer({ seed: 8 });
    const joined = second.map((x, i) => (i < 6 * RATE - 75 ? first[i]! + 0.01 * x : 0.05 * x));
    const recording = assess(joined, RATE);
    expect(codes(recording)).toContain("spliced");
    const pump = washer().map((x, i) => {
      const on = Math.min(1, Math.max(0, (i / RATE - 9) / 0.08));
      return x + 0.4 * on * Math.sin((2 * Math.PI * 700 * i) / RATE);
    });
    expect(codes(assess(pump, RATE))).not.toContain("spliced");
  });

  it("reports gaps, wild numbers and a jump of the zero line, and goes on", () => {
    const gaps = washer().map((x, i) => (i % (4 * RATE) > 4 * RATE - 500 ? 0 : x));
    const wild = washer().map((x, i) => (i === 70_000 ? NaN : i === 90_000 ? Infinity : x));
    const offset = washer().map((x, i) => (i > 8 * RATE ? x + 0.2 : x));
    for (const x of [gaps, wild, offset]) {
      const recording = assess(x, RATE);
      expect(codes(recording)).toContain("damaged");
      expect(recording.samples.every(Number.isFinite)).toBe(true);
      expect(
        recording.usable.reduce((s, it) => s + it.endSeconds - it.startSeconds, 0),
      ).toBeGreaterThan(15);
    }
  });

  it("has nothing to say about plain machines", () => {
    const plain = [
      washer(),
      washer({ drumHz: (t) => 1 + t }),
      washer({ knock: 5, drumHz: () => 1 }),
    ];
    expect(plain.flatMap((x) => codes(assess(x, RATE)))).toEqual([]);
  });
});

describe("problem messages", () => {
  it("are one sentence each without a hole", () => {
    const bad = withSpeech(washer({ rate: RATE, seconds: 9 }), 1, 0.2).map((x) =>
      Math.max(-0.1, Math.min(0.1, x)),
    );
    const { problems } = assess([bad, bad.map((x) => -x)], RATE, "3gp, AMR-WB");
    expect(problems.length).toBeGreaterThanOrEqual(4);
    for (const { message } of problems) {
      expect(message).toMatch(/^[A-Z].*\.$/);
      expect(message).not.toMatch(/[{}]|undefined|NaN/);
    }
  });
});
