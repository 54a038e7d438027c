import { beforeAll, describe, expect, it } from "vitest";
import { observeCharacter } from "../../src/evidence/character/observe-character.js";
import type { Measurement } from "../../src/evidence/evidence.js";
import type { FeatureId } from "../../src/evidence/features.data.js";
import { makeContext, type ContextOptions } from "./make-context.js";
import {
  bandNoise,
  bursts,
  grinding,
  harmonics,
  healthyWasher,
  mix,
  normalised,
  pinkNoise,
  randomMoments,
  rattle,
  seeded,
  squeal,
  throughPhone,
  turnsOf,
  whiteNoise,
} from "./small-sounds.js";

type Rows = Partial<Record<FeatureId, Measurement>>;

const SECONDS = 8;
const spin = (): number => 13;
const heard = (sound: Float64Array, options: ContextOptions = {}): Rows =>
  observeCharacter(makeContext(sound, options));
const value = (rows: Rows, id: FeatureId): number => {
  const row = rows[id];
  if (row?.value === null || row === undefined) throw new Error(`${id} is ${row?.missing}`);
  return row.value;
};
const washer = (seed: number): Float64Array =>
  normalised(healthyWasher(SECONDS, spin, seeded(seed)));
const spinning = { drumHz: spin, motorToDrum: 10.7, lineHz: 50 } as const;
const seconds = Float64Array.from({ length: SECONDS * 16_000 }, (_, i) => i / 16_000);

describe("roughness", () => {
  it("of steady noise is about 0, whatever the phone's ear", () => {
    for (const seed of [1, 2, 3]) {
      const random = seeded(seed);
      const noise = seed === 2 ? pinkNoise(SECONDS, random) : whiteNoise(SECONDS, random);
      const rows = heard(throughPhone(noise, random));
      expect(value(rows, "roughness")).toBeLessThan(0.12);
      expect(value(rows, "fluctuation")).toBeLessThan(0.12);
      expect(Math.abs(value(rows, "impulsiveness"))).toBeLessThan(0.1);
    }
  });

  it("reads the modulation index of noise in closed form: 70 Hz, depth 0.5", () => {
    // Level (1 + m cos)² over its mean 1 + m²/2: amplitude 2m and m²/2, squared index
    // (2m² + m⁴/8) / (1 + m²/2)²; the second harmonic, 140 Hz, lies inside 20-150 Hz, too.
    const m = 0.5;
    const noise = bandNoise(SECONDS, 300, 7400, seeded(5));
    const index = Math.sqrt((2 * m ** 2 + m ** 4 / 8) / (1 + m ** 2 / 2) ** 2);
    const rows = heard(
      noise.map((v, i) => v * (1 + m * Math.cos(2 * Math.PI * 70 * (i / 16_000)))),
    );
    expect(Math.abs(value(rows, "roughness") / index - 1)).toBeLessThan(0.08);
  });

  it("stands out when rolling noise is 8 dB under the machine, also with echo and gain control", () => {
    const random = seeded(7);
    const rough = mix([1, washer(6)], [0.4, grinding(SECONDS, spin, random)]);
    const healthy = value(heard(throughPhone(washer(6), seeded(8)), spinning), "roughness");
    for (const gainControl of [false, true]) {
      const rows = heard(throughPhone(rough, seeded(8), { gainControl }), spinning);
      expect(value(rows, "roughness")).toBeGreaterThan(healthy + 0.15);
      expect(value(rows, "roughness-periodic")).toBeLessThan(0.5);
    }
  });

  it("does not take two steady tones that beat for rough rolling", () => {
    const tones = harmonics(seconds, [
      [2000, 1],
      [2060, 1],
    ]);
    const rows = heard(mix([1, pinkNoise(SECONDS, seeded(9))], [0.5, tones]));
    expect(value(rows, "roughness")).toBeLessThan(0.15);
  });

  it("is not moved by a few slammed doors", () => {
    const doors = bursts(
      SECONDS,
      [3, 5.2, 9].map((time) => ({ seconds: time, gain: 30 })),
      1800,
      0.05,
    );
    const rows = heard(mix([1, washer(10)], [1, doors]), spinning);
    expect(value(rows, "roughness")).toBeLessThan(0.15);
    expect(value(rows, "impulsiveness")).toBeLessThan(0.5);
  });

  it("does not take two clicks a second, nor a blow a turn at 1300 rpm, for rough rolling", () => {
    const clicks = Array.from({ length: 2 * SECONDS }, (_, i) => ({
      seconds: 0.2 + i / 2,
      gain: 20,
    }));
    const clicking = heard(mix([1, washer(14)], [1, bursts(SECONDS, clicks, 2500, 0.004)]));
    expect(value(clicking, "roughness")).toBeLessThan(0.2);
    expect(value(clicking, "crackle")).toBeLessThan(0.5);
    const fast = 21.6;
    const turns = Array.from({ length: Math.floor(fast * SECONDS) }, (_, i) => ({
      seconds: i / fast,
      gain: 3,
    }));
    const blown = mix(
      [1, pinkNoise(SECONDS, seeded(15))],
      [1, bursts(SECONDS, turns, 1500, 0.006)],
    );
    const known = value(heard(blown, { ...spinning, drumHz: fast }), "roughness");
    const unknown = value(heard(blown), "roughness");
    expect(known).toBeLessThan(0.4 * unknown);
  });

  it("is missing, not zero, when the recording ends at 1.5 kHz", () => {
    const rows = heard(washer(11), { bandHz: [200, 1500] });
    expect(rows["roughness"]).toEqual({ value: null, quality: 0, missing: "band" });
    expect(rows["crackle"]?.missing).toBe("band");
  });
});

describe("all character rows", () => {
  it("stay as they are when the recording is 26 dB softer", () => {
    const sound = mix([1, washer(12)], [0.3, rattle(SECONDS, seeded(13))]);
    const loud = heard(sound, spinning);
    const soft = heard(
      sound.map((v) => 0.05 * v),
      spinning,
    );
    for (const [id, row] of Object.entries(loud)) {
      const other = soft[id as FeatureId]!;
      if (row.value === null) expect(other.missing).toBe(row.missing);
      else expect(other.value).toBeCloseTo(row.value, 6);
    }
  });
});

describe("impulses", () => {
  it("count a Poisson rattle of 12 a second and call it irregular", () => {
    const rows = heard(mix([1, washer(14)], [0.6, rattle(SECONDS, seeded(15))]));
    expect(value(rows, "impulse-rate")).toBeGreaterThan(6);
    expect(value(rows, "impulse-rate")).toBeLessThan(13);
    // 1 for a Poisson process; the dead time after each impulse takes a little off.
    expect(value(rows, "impulse-irregularity")).toBeGreaterThan(0.75);
    expect(value(rows, "impulsiveness")).toBeGreaterThan(3);
  });

  it("call clicks of a clock regular, also while their rate drifts", () => {
    const moments = [];
    for (let time = 0.2; time < SECONDS; time += 0.1 + 0.004 * time) {
      moments.push({ seconds: time, gain: 1 });
    }
    const clicks = normalised(bursts(SECONDS, moments, 2500, 0.004));
    const rows = heard(mix([0.3, pinkNoise(SECONDS, seeded(16))], [1, clicks]));
    expect(value(rows, "impulse-irregularity")).toBeLessThan(0.15);
  });

  it("lose trust when the recording is clipped", () => {
    const sound = washer(17);
    const clean = heard(sound)["impulsiveness"]!;
    const clipped = heard(sound, { quality: { clippedShare: 0.02 } })["impulsiveness"]!;
    expect(clipped.quality).toBeLessThan(0.5 * clean.quality);
  });
});

describe("tones", () => {
  const turns = turnsOf(SECONDS, spin);
  const whine = harmonics(turns, [
    [10.7 * 5.4, 0.9],
    [10.7 * 10.8, 0.7],
  ]);

  it("of a whine are prominent and make a share of the power; those of the mains are left out", () => {
    const base = washer(18);
    const hum = harmonics(seconds, [
      [100, 0.8],
      [200, 0.6],
      [300, 0.4],
      [400, 0.4],
      [600, 0.4],
    ]);
    const plain = heard(base, spinning);
    const whining = heard(mix([1, base], [1, whine]), spinning);
    const humming = heard(mix([1, base], [1, hum]), spinning);
    expect(value(whining, "tone-prominence")).toBeGreaterThan(0);
    expect(value(plain, "tone-prominence")).toBeLessThan(-3);
    expect(value(humming, "tone-prominence")).toBeLessThan(-3);
    expect(value(whining, "tone-share")).toBeGreaterThan(value(plain, "tone-share") + 0.1);
    expect(value(humming, "tone-share")).toBeLessThanOrEqual(value(plain, "tone-share") + 0.02);
    // Either of the whine's two lines, 5.4 and 10.8 times the motor's speed.
    const nearest = Number(whining["tone-prominence"]?.detail?.["hz"]) / (13 * 10.7 * 5.4);
    expect(Math.abs(nearest - Math.round(nearest))).toBeLessThan(0.01);
  });

  it("finds the mains by itself when nobody told the country", () => {
    const hum = harmonics(seconds, [
      [120, 0.8],
      [240, 0.6],
      [360, 0.5],
      [480, 0.5],
    ]);
    const rows = heard(mix([1, pinkNoise(SECONDS, seeded(19))], [1.5, hum]), {});
    expect(value(rows, "tone-prominence")).toBeLessThan(-3);
  });

  it("does not call the comb of blows once a turn a whine", () => {
    const moments = Array.from({ length: 150 }, (_, i) => ({ seconds: 0.1 + i / 13, gain: 1 }));
    const blows = normalised(bursts(SECONDS, moments, 260, 0.008));
    const rows = heard(mix([0.5, washer(20)], [1, blows]), spinning);
    const whining = heard(mix([1, washer(20)], [1, whine]), spinning);
    expect(value(rows, "tone-prominence")).toBeLessThan(value(whining, "tone-prominence"));
  });
});

describe("balance of the bands", () => {
  it("tells hiss from rumble", () => {
    const hiss = heard(bandNoise(SECONDS, 1500, 7400, seeded(21)));
    const rumble = heard(bandNoise(SECONDS, 90, 350, seeded(22)));
    expect(value(hiss, "low-band-share")).toBeLessThan(0.05);
    expect(value(rumble, "low-band-share")).toBeGreaterThan(0.7);
    expect(value(hiss, "jet-hiss")).toBeGreaterThan(0.6);
    expect(value(rumble, "jet-hiss")).toBeLessThan(0.2);
    // White noise from 1 to 7.5 kHz holds 3.5 of 6.5 kHz above 4 kHz.
    const white = heard(whiteNoise(SECONDS, seeded(23)));
    expect(Math.abs(value(white, "high-band-share") - 3.5 / 6.5)).toBeLessThan(0.03);
  });

  it("flatness falls when thirds of an octave are full of tones", () => {
    const comb = harmonics(
      seconds,
      Array.from({ length: 60 }, (_, k) => [1000 + 83 * k, 0.3] as const),
    );
    const noise = whiteNoise(SECONDS, seeded(24));
    expect(value(heard(noise), "flatness")).toBeGreaterThan(0.9);
    expect(value(heard(mix([0.3, noise], [1, comb])), "flatness")).toBeLessThan(0.5);
  });
});

describe("squeals", () => {
  const sounding = [
    [2, 3.4],
    [6, 7],
    [9.5, 10.2],
  ] as const;
  const squealing = mix([1, washer(30)], [0.4, squeal(SECONDS, 1430, sounding)]);

  it("stand out, swing, and keep their pitch while the speed rises", () => {
    const rising = (t: number): number => 6 + 0.7 * t;
    const ramp = mix(
      [1, normalised(healthyWasher(SECONDS, rising, seeded(31)))],
      [0.4, squeal(SECONDS, 1430, sounding)],
    );
    const rows = heard(ramp, { ...spinning, drumHz: rising });
    expect(value(rows, "squeal-prominence")).toBeGreaterThan(14);
    expect(value(rows, "squeal-swing")).toBeGreaterThan(10);
    expect(value(rows, "squeal-fixed-pitch")).toBeGreaterThan(0.8);
    expect(rows["squeal-prominence"]?.detail?.["hz"]).toBeCloseTo(1430, -2);
  });

  it("are not heard in a tone that follows the speed, in steady tones or in pulsed mains hum", () => {
    const rising = (t: number): number => 6 + 0.7 * t;
    const following = harmonics(turnsOf(SECONDS, rising), [[10.7 * 8, 0.6]]);
    const steady = harmonics(seconds, [[1930, 0.6]]);
    const pulsed = seconds.map((t) => (t % 3 < 1 ? 0.6 * Math.cos(2 * Math.PI * 700 * t) : 0));
    const base = normalised(healthyWasher(SECONDS, rising, seeded(32)));
    for (const tone of [following, steady, pulsed]) {
      const rows = heard(mix([1, base], [1, tone]), { ...spinning, drumHz: rising });
      expect(value(rows, "squeal-swing")).toBeLessThan(8.5);
    }
  });

  it("are placed at the start of a run-up", () => {
    const runUp = (t: number): number | null => (t < 2.5 ? null : 3 + 1.5 * (t - 2.5));
    const early = mix([1, washer(33)], [0.5, squeal(SECONDS, 1200, [[2.6, 5.5]])]);
    const late = mix([1, washer(33)], [0.5, squeal(SECONDS, 1200, [[6.5, 7.8]])]);
    expect(value(heard(early, { drumHz: runUp }), "squeal-at-start")).toBeGreaterThan(0.8);
    expect(value(heard(late, { drumHz: runUp }), "squeal-at-start")).toBeLessThan(0.3);
  });

  it("are placed in the slowing down of a drum that slows down", () => {
    const braking = (t: number): number => (t < 3 ? 12 : 12 - 1.2 * (t - 3));
    const rows = heard(mix([1, washer(34)], [0.5, squeal(SECONDS, 900, [[4.5, 7.5]])]), {
      drumHz: braking,
    });
    expect(value(rows, "squeal-at-slowing")).toBeGreaterThan(0.8);
  });

  it("tell once per turn from at random in a slow drum", () => {
    const long = 26;
    const slow = 0.8;
    const noise = pinkNoise(long, seeded(35));
    const regular = Array.from(
      { length: 20 },
      (_, k) => [k / slow + 0.3, k / slow + 0.75] as const,
    );
    const random = seeded(36);
    const scattered = randomMoments(long, slow, random).map(
      ({ seconds: s }) => [s, s + 0.45] as const,
    );
    const p = (when: readonly (readonly [number, number])[]): number =>
      value(
        heard(mix([1, noise], [0.6, squeal(long, 1100, when)]), { drumHz: slow }),
        "squeal-once-per-turn",
      );
    expect(p(regular)).toBeLessThan(0.01);
    expect(p(scattered)).toBeGreaterThan(0.03);
  });

  it("leave the timing rows missing when there is no squeal", () => {
    const rows = heard(washer(37), spinning);
    expect(value(rows, "squeal-prominence")).toBeLessThan(12);
    expect(rows["squeal-at-start"]?.missing).toBe("no-events");
    expect(rows["squeal-fixed-pitch"]?.missing).toBe("no-events");
  });

  it("do not hear a voice's stack of harmonics as a squeal", () => {
    const turns = new Float64Array(seconds.length);
    for (let i = 1; i < turns.length; i++) {
      turns[i] = turns[i - 1]! + (150 * (1 + 0.08 * Math.sin(3 * seconds[i]!))) / 16_000;
    }
    const stack = harmonics(
      turns,
      Array.from({ length: 12 }, (_, k) => [k + 1, 0.3] as const),
    ).map((v, i) => (seconds[i]! % 2 < 0.7 ? v : 0));
    const voice = value(heard(mix([1, washer(38)], [1, stack])), "squeal-prominence");
    expect(value(heard(squealing), "squeal-prominence")).toBeGreaterThan(voice + 4);
  });
});

describe("machine-likeness", () => {
  let likeness: (sound: Float64Array, options?: ContextOptions) => number;
  beforeAll(() => {
    likeness = (sound, options = {}) => value(heard(sound, options), "machine-likeness");
  });

  it("is high for a spin, about even for plain noise, low for cries", () => {
    const cries = seconds.map((t) => {
      const on = t % 1.6 < 0.9 ? 1 : 0.002;
      return on * Math.sin(2 * Math.PI * (450 * t - 40 * Math.cos(5 * t)));
    });
    expect(likeness(washer(40), spinning)).toBeGreaterThan(2);
    expect(Math.abs(likeness(pinkNoise(SECONDS, seeded(41))))).toBeLessThan(1.5);
    expect(likeness(mix([1, cries], [0.003, pinkNoise(SECONDS, seeded(42))]))).toBeLessThan(-1.5);
  });

  it("falls when someone speaks over the recording", () => {
    const spoken = { quality: { speechShare: 0.8 } };
    const noise = pinkNoise(SECONDS, seeded(43));
    expect(likeness(noise, spoken)).toBeLessThan(likeness(noise) - 1);
  });
});
