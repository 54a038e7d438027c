import { describe, expect, it } from "vitest";
import type { Measurement } from "../../src/evidence/evidence.js";
import type { FeatureId } from "../../src/evidence/features.data.js";
import { observeTurn } from "../../src/evidence/turn/observe-turn.js";
import { makeContext, type ContextOptions } from "./make-context.js";
import {
  bandNoise,
  bursts,
  healthyWasher,
  mix,
  normalised,
  pinkNoise,
  randomMoments,
  seeded,
  throughPhone,
  turnMoments,
  turnsOf,
  type Burst,
  type Speed,
} from "./small-sounds.js";

type Rows = Partial<Record<FeatureId, Measurement>>;

const SECONDS = 8;
const spin: Speed = () => 9;
const heard = (sound: Float64Array, options: ContextOptions): Rows =>
  observeTurn(makeContext(sound, options));
const value = (rows: Rows, id: FeatureId): number => {
  const row = rows[id];
  if (row?.value === null || row === undefined) throw new Error(`${id} is ${row?.missing}`);
  return row.value;
};
const noise = (seed: number, seconds = SECONDS): Float64Array => pinkNoise(seconds, seeded(seed));
const blows = (moments: readonly Burst[], hz: number, decay: number, seconds = SECONDS) =>
  normalised(bursts(seconds, moments, hz, decay));
const swelling = (seed: number, speed: Speed, depth: number, seconds = SECONDS): Float64Array => {
  const turns = turnsOf(seconds, speed);
  return noise(seed, seconds).map((v, i) => v * (1 + depth * Math.cos(2 * Math.PI * turns[i]!)));
};

describe("turn-modulation", () => {
  it("reads the depth of a smooth swell once a turn", () => {
    for (const depth of [0.1, 0.3]) {
      const rows = heard(swelling(1, spin, depth), { drumHz: spin });
      // ln(1 + m cos) has the first harmonic 2 (1 - sqrt(1 - m²)) / m, which is m for small m.
      const expected = (2 * (1 - Math.sqrt(1 - depth ** 2))) / depth;
      expect(Math.abs(value(rows, "turn-modulation") / expected - 1)).toBeLessThan(0.15);
      expect(value(rows, "turn-modulation-p")).toBeLessThan(1e-3);
    }
  });

  it("calls a smooth swell neither a blow nor a scrape", () => {
    const rows = heard(swelling(2, spin, 0.3), { drumHz: spin });
    expect(value(rows, "turn-impact-crest")).toBeLessThan(2.2);
    expect(value(rows, "turn-impact")).toBeGreaterThan(0.01);
    expect(value(rows, "scrape-gated")).toBeLessThan(3);
  });

  it("keeps the false-alarm rate of noise and of random blows", () => {
    // 20 clips without anything tied to the drum: under a right p-value, P(more than 4 below 0.05) is 0.3 %.
    let below = 0;
    for (let seed = 0; seed < 20; seed++) {
      const random = seeded(100 + seed);
      const base = noise(200 + seed);
      const moments = randomMoments(SECONDS, 8, random);
      const sound = seed % 2 === 0 ? base : mix([1, base], [0.8, blows(moments, 700, 0.02)]);
      const rows = heard(sound, { drumHz: random.between(4, 14) });
      if (value(rows, "turn-modulation-p") < 0.05) below++;
    }
    expect(below).toBeLessThanOrEqual(4);
  });

  it("is still found when the speed is wrong by half a percent, which turns a long clip's phase away", () => {
    const speed: Speed = () => 12;
    const sound = swelling(3, speed, 0.2, 40);
    const rows = heard(sound, { drumHz: 12 * 1.005, relativeError: 0.005 });
    expect(value(rows, "turn-modulation-p")).toBeLessThan(1e-3);
    expect(value(rows, "turn-modulation")).toBeGreaterThan(0.12);
  });

  it("is not found at a belt's rate of 0.71 per turn", () => {
    const belt = swelling(4, () => 0.71 * 9, 0.3);
    expect(value(heard(belt, { drumHz: spin }), "turn-modulation-p")).toBeGreaterThan(0.05);
  });

  it("at two per turn shows in turn-double, at one half in turn-half", () => {
    const twice = heard(
      swelling(5, () => 18, 0.3),
      { drumHz: spin },
    );
    expect(value(twice, "turn-double")).toBeGreaterThan(6);
    const half = heard(
      swelling(6, () => 4.5, 0.3),
      { drumHz: spin },
    );
    expect(value(half, "turn-half")).toBeLessThan(1e-3);
    expect(value(heard(swelling(7, spin, 0.3), { drumHz: spin }), "turn-half")).toBeGreaterThan(
      0.01,
    );
  });
});

describe("turn-impact", () => {
  const knocks = (speed: Speed, seed: number): Burst[] =>
    turnMoments(SECONDS, speed, { random: seeded(seed) });

  it("finds a dull knock per turn through phone, room and gain control, in the right band", () => {
    const base = normalised(healthyWasher(SECONDS, spin, seeded(10)));
    const knock = mix([1, base], [0.8, blows(knocks(spin, 11), 280, 0.015)]);
    const click = mix([1, base], [0.5, blows(knocks(spin, 12), 2600, 0.006)]);
    for (const gainControl of [false, true]) {
      const dull = heard(throughPhone(knock, seeded(13), { gainControl }), { drumHz: spin });
      const sharp = heard(throughPhone(click, seeded(13), { gainControl }), { drumHz: spin });
      for (const rows of [dull, sharp]) expect(value(rows, "turn-impact")).toBeLessThan(1e-3);
      expect(value(dull, "turn-impact-low")).toBeGreaterThan(value(dull, "turn-impact-high") + 1);
      expect(value(sharp, "turn-impact-high")).toBeGreaterThan(value(sharp, "turn-impact-low") + 1);
    }
  });

  it("hears a knock per turn at 1300 rpm, where a turn is under 50 ms", () => {
    const fast: Speed = () => 21.6;
    const sound = mix([1, noise(24)], [1.2, blows(knocks(fast, 25), 250, 0.01)]);
    expect(value(heard(sound, { drumHz: fast }), "turn-impact")).toBeLessThan(1e-3);
  });

  it("follows the drum through a run-up", () => {
    const rising: Speed = (t) => 3 + 0.8 * t;
    const sound = mix([1, noise(14)], [1, blows(knocks(rising, 15), 300, 0.015)]);
    expect(value(heard(sound, { drumHz: rising }), "turn-impact")).toBeLessThan(1e-3);
    expect(value(heard(sound, { drumHz: 7.8 }), "turn-impact")).toBeGreaterThan(0.01);
  });

  it("has a crest over 3, no misses and one angle for a hard knock in every turn", () => {
    const slow: Speed = () => 3;
    const sound = mix([1, noise(16)], [1.5, blows(knocks(slow, 17), 300, 0.012)]);
    const rows = heard(sound, { drumHz: slow });
    expect(value(rows, "turn-impact-crest")).toBeGreaterThan(3);
    expect(value(rows, "turn-misses")).toBeLessThan(0.1);
    expect(value(rows, "turn-phase-spread")).toBeLessThan(0.1);
  });

  it("counts the turns a loose object misses", () => {
    const slow: Speed = () => 3;
    const random = seeded(18);
    const some = knocks(slow, 19).filter(() => random.chance(0.7));
    const rows = heard(mix([1, noise(20)], [1.5, blows(some, 300, 0.012)]), { drumHz: slow });
    expect(value(rows, "turn-impact")).toBeLessThan(1e-3);
    expect(Math.abs(value(rows, "turn-misses") - 0.3)).toBeLessThan(0.17);
  });

  it("does not take one slammed door for a blow in every turn", () => {
    const door = blows([{ seconds: 6, gain: 1 }], 200, 0.1);
    const rows = heard(mix([1, noise(21)], [3, door]), { drumHz: spin });
    expect(value(rows, "turn-impact-low")).toBeLessThan(1);
    expect(value(rows, "turn-impact")).toBeGreaterThan(0.01);
  });
});

describe("blows by speed", () => {
  const ramp: Speed = (t) => 2 + (10 / 24) * t;
  it("thump-window is high when it bangs at 120 to 350 rpm and is gone above", () => {
    const random = seeded(30);
    const moments = turnMoments(24, ramp, { random });
    const passing = moments.filter(({ seconds }) => 60 * ramp(seconds) < 350);
    const lasting = moments.filter(({ seconds }) => 60 * ramp(seconds) > 450);
    const base = noise(31, 24);
    const soft = heard(mix([1, base], [1, blows(passing, 180, 0.02, 24)]), { drumHz: ramp });
    const hard = heard(mix([1, base], [1, blows(lasting, 180, 0.02, 24)]), { drumHz: ramp });
    expect(value(soft, "thump-window")).toBeGreaterThan(3);
    expect(value(soft, "thump-at-speed")).toBeLessThan(1);
    expect(value(hard, "thump-window")).toBeLessThan(-1.5);
    expect(value(hard, "thump-at-speed")).toBeGreaterThan(1.5);
  });

  it("thump-window is missing when the clip does not cross both speeds", () => {
    expect(heard(noise(32), { drumHz: spin })["thump-window"]?.missing).toBe("phase");
  });

  it("thump-at-end hears the last turns of a run-down", () => {
    const falling: Speed = (t) => Math.max(0.6, 9 - 0.45 * t);
    const random = seeded(33);
    const moments = turnMoments(20, falling, { random });
    const last = moments.slice(-5);
    const base = noise(34, 20);
    const rocking = heard(mix([1, base], [1, blows(last, 180, 0.03, 20)]), { drumHz: falling });
    const quiet = heard(base, { drumHz: falling });
    expect(value(rocking, "thump-at-end")).toBeGreaterThan(value(quiet, "thump-at-end") + 3);
  });
});

describe("scrape-gated", () => {
  it("tells a scrape over a fifth of the turn from a click and from even hiss", () => {
    const speed: Speed = () => 5;
    const turns = turnsOf(SECONDS, speed);
    const hiss = bandNoise(SECONDS, 1000, 7000, seeded(40));
    const scrape = hiss.map((v, i) => (turns[i]! % 1 < 0.22 ? v : 0));
    const clicks = blows(turnMoments(SECONDS, speed, { random: seeded(41) }), 2600, 0.002);
    const rows = (added: Float64Array, gain: number): number =>
      value(heard(mix([1, noise(42)], [gain, added]), { drumHz: speed }), "scrape-gated");
    expect(rows(scrape, 0.8)).toBeGreaterThan(3);
    expect(rows(clicks, 0.5)).toBeLessThan(rows(scrape, 0.8) - 2);
    expect(rows(hiss, 0.8)).toBeLessThan(1);
  });
});

describe("tumbling", () => {
  const tumble: Speed = () => 0.78;
  const long = 30;
  const clacks = turnMoments(long, tumble, { random: seeded(50), jitter: 0.01 });
  const sound = mix([1, noise(51, long)], [0.8, blows(clacks, 1800, 0.008, long)]);

  it("hears a lifter's clack below 70 rpm", () => {
    expect(value(heard(sound, { drumHz: tumble }), "tumble-clack")).toBeLessThan(1e-3);
    expect(value(heard(noise(52, long), { drumHz: tumble }), "tumble-clack")).toBeGreaterThan(0.01);
    expect(heard(noise(53), { drumHz: spin })["tumble-clack"]?.missing).toBe("phase");
  });

  it("finds the tumbling rate by itself when no speed was found, at half the trust", () => {
    const knock = blows(clacks, 200, 0.04, long);
    const rows = heard(mix([1, noise(54, long)], [2, knock]), {});
    expect(value(rows, "turn-impact-low")).toBeGreaterThan(3);
    expect(rows["turn-impact-low"]!.quality).toBeLessThanOrEqual(0.5);
  });

  it("says that the speed is missing when there is no rhythm to find", () => {
    const rows = heard(noise(55, long), {});
    expect(rows["turn-impact"]).toEqual({ value: null, quality: 0, missing: "speed" });
    expect(rows["turn-modulation"]?.missing).toBe("speed");
  });

  it("trusts slow rhythms less when the phone's gain pumps", () => {
    const steady = heard(sound, { drumHz: tumble })["turn-modulation"]!;
    const pumped = heard(sound, { drumHz: tumble, quality: { gainPumping: true } })[
      "turn-modulation"
    ]!;
    expect(pumped.quality).toBeLessThan(0.5 * steady.quality);
  });
});

describe("a drum that stops and goes", () => {
  it("passes over the pauses and the stretches with speech", () => {
    const speed = (t: number): number | null => (t % 10 < 6 ? 5 : null);
    const running: Speed = (t) => speed(t) ?? 0;
    const turns = turnsOf(24, running);
    const base = noise(60, 24).map((v, i) =>
      speed(i / 16_000) === null ? 0.02 * v : v * (1 + 0.3 * Math.cos(2 * Math.PI * turns[i]!)),
    );
    const rows = heard(base, {
      drumHz: speed,
      usable: [
        [0, 13],
        [15, 24],
      ],
    });
    expect(value(rows, "turn-modulation-p")).toBeLessThan(1e-3);
    expect(Math.abs(value(rows, "turn-modulation") - 0.3)).toBeLessThan(0.08);
  });

  it("is missing as too short with fewer than eight turns", () => {
    const rows = heard(noise(61, 6), { drumHz: 0.9 });
    expect(rows["turn-impact"]?.missing).toBe("short");
  });
});
