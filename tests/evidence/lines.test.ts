import { describe, expect, it } from "vitest";
import { findLines } from "../../src/evidence/lines/find-lines.js";
import { viewsOf } from "../../src/evidence/lines/line-views.js";
import { observeLines } from "../../src/evidence/lines/observe-lines.js";
import { listen } from "../../src/evidence/listen.js";
import { washerById } from "../../src/machine/washers.js";
import {
  benchContext,
  benchRecording,
  benchSound,
  benchSpeed,
  type BenchClip,
  type BurstTrain,
} from "./lines-bench.js";

const steady = (hz: number) => (): number => hz;
const ramp = (fromHz: number, toHz: number, seconds: number) => (t: number) =>
  fromHz + ((toHz - fromHz) * t) / seconds;

const BASE: BenchClip = { seconds: 12, seed: 7, drumHzAt: steady(17.3) };

/** A burst train at a rate of the 6205, published multiples 3.5848 (outer) and 5.4152 (inner). */
const train = (order: number, db: number, shaftAm: number): BurstTrain => ({
  order,
  db,
  resonanceHz: 2900,
  jitter: 0.01,
  shaftAm,
});

/** Clips with fluctuating noise, clicks, hum, motor tones and a breathing drum, but no damage. */
const healthyClip = (seed: number): BenchClip => ({
  seconds: 8,
  seed,
  drumHzAt: seed % 2 === 0 ? ramp(9, 17, 8) : steady(12 + (seed % 5)),
  motorRatio: 10 + (seed % 7) * 0.43,
  randomAm: 0.25,
  drumAm: 0.3,
  motorDb: -6,
  humDb: -3,
  lineHz: 50,
  clicksPerSecond: 4,
});

describe("observeLines(clip with a damaged race)", () => {
  // Multiples of the 6205 as published by the Case Western Reserve bearing data center.
  it.each([
    ["outer", 3.5848, 0, "drum-bearing/outer/9-ball"],
    ["inner", 5.4152, 0.8, "drum-bearing/inner/9-ball"],
  ] as const)("names the %s race on a run-up, p < 0.01", (_, order, shaftAm, id) => {
    const clip: BenchClip = {
      ...BASE,
      drumHzAt: ramp(11, 18, 12),
      randomAm: 0.2,
      clicksPerSecond: 4,
      bursts: [train(order * 1.006, -9, shaftAm)],
    };
    const { lines, features } = observeLines(benchContext(clip, { error: 0.001 }));
    const found = lines.find(({ line }) => line.id === id)!;
    expect(found.p).toBeLessThan(0.01);
    expect(found.heardOrder! / order).toBeCloseTo(1.006, 2);
    expect(found.confounded).toBe(false);
    const bearing = features["line-drum-bearing"]!;
    expect(bearing.value).toBeLessThan(0.05);
    expect(bearing.detail!["perTurn"] as number).toBeCloseTo(order * 1.006, 1);
    const others = lines.filter(
      ({ line, confounded, pAdjusted }) =>
        line.part !== "drum-bearing" && !line.healthy && !confounded && pAdjusted < 0.01,
    );
    expect(others).toEqual([]);
  });

  it("hears the once-per-turn modulation of an inner race beside its line", () => {
    const clip: BenchClip = { ...BASE, bursts: [train(5.4152, -6, 0.9)] };
    const context = benchContext(clip);
    const found = findLines(context.expectedLines, viewsOf(context)).find(
      ({ line }) => line.id === "drum-bearing/inner/9-ball",
    )!;
    expect(found.sidebands).toBe(true);
  });

  it("hears a belt's rate and does not take its harmonics for a bearing", () => {
    const clip: BenchClip = {
      ...BASE,
      seconds: 16,
      bursts: [{ ...train(0.708, -6, 0), jitter: 0.002 }],
    };
    const { lines, features } = observeLines(benchContext(clip));
    expect(features["line-belt"]!.value).toBeLessThan(0.01);
    // Five belt turns are 3.54 drum orders, inside the window of a nine-ball outer race.
    const race = lines.find(({ line }) => line.id === "drum-bearing/outer/9-ball")!;
    expect(race.confounded || race.pAdjusted > 0.05).toBe(true);
  });
});

describe("observeLines(clip without damage)", () => {
  it("alarms in at most one of eight clips with hum, clicks, motor tones and a breathing drum", () => {
    const alarms = Array.from({ length: 8 }, (_, i) => {
      const { lines } = observeLines(benchContext(healthyClip(100 + i), { error: 0.002 }));
      return lines.some(
        ({ line, confounded, pAdjusted }) => !line.healthy && !confounded && pAdjusted < 0.05,
      );
    });
    expect(alarms.filter(Boolean).length).toBeLessThanOrEqual(1);
  });

  it("gives the same p-values whatever the recording's gain", () => {
    const clip = healthyClip(5);
    const sound = benchSound(clip);
    const at = (gain: number) => {
      const recording = benchRecording(sound.map((v) => v * gain));
      const washer = washerById("front-load-belt-universal");
      return observeLines(listen(recording, washer, benchSpeed(clip), "spin"));
    };
    const [soft, loud] = [at(0.3), at(1)];
    soft.lines.forEach(({ p }, i) => {
      expect(Math.log10(p)).toBeCloseTo(Math.log10(loud.lines[i]!.p), 1);
    });
    expect(soft.features["mains-share"]!.value).toBeCloseTo(
      loud.features["mains-share"]!.value!,
      3,
    );
  });

  it("says that the speed is missing, and does not guess, when none is known", () => {
    const clip: BenchClip = { ...BASE, bursts: [train(3.5848, -6, 0)] };
    const washer = washerById("front-load-belt-universal");
    const speed = { ...benchSpeed(clip), drumRpm: null, motorRpm: null, track: [] };
    const context = listen(benchRecording(benchSound(clip)), washer, speed, "spin");
    const { features, lines } = observeLines(context);
    for (const id of ["line-drum-bearing", "line-belt", "line-motor-bearing"] as const) {
      expect(features[id]).toEqual({ value: null, quality: 0, missing: "speed" });
    }
    expect(lines.every(({ line }) => line.clock === "mains")).toBe(true);
  });
});

describe("observeLines(recording of a narrow band)", () => {
  it("says that the band is missing when the codec left none of the octaves", () => {
    const clip: BenchClip = { ...BASE, bursts: [train(3.5848, -6, 0)] };
    const washer = washerById("front-load-belt-universal");
    const recording = { ...benchRecording(benchSound(clip)), bandHz: [60, 600] as const };
    const { features } = observeLines(listen(recording, washer, benchSpeed(clip), "spin"));
    expect(features["line-drum-bearing"]).toMatchObject({ value: null, missing: "band" });
  });
});

describe("observeLines(motor bearing)", () => {
  it("finds tones at an outer race of the motor and names the multiple", () => {
    // 6202: 3.048 times the shaft by its geometry (8 balls of 5.953 mm on 25 mm).
    const clip: BenchClip = {
      ...BASE,
      drumHzAt: ramp(12, 18, 12),
      motorRatio: 11.3,
      motorDb: -8,
      tones: [1, 2, 3].map((h) => ({ order: h * 3.048 * 11.3, db: -14 - 3 * h })),
    };
    const { features } = observeLines(benchContext(clip, { error: 0.0005 }));
    const bearing = features["line-motor-bearing"]!;
    expect(bearing.value).toBeLessThan(0.01);
    expect(bearing.detail!["perMotorTurn"] as number).toBeCloseTo(3.048, 1);
  });

  // Outer and inner rate of eight balls, 3.048 and 4.952 per turn (geometry of 6202), each with sidebands
  // one shaft turn away: Randall and Antoni, Mech. Syst. Signal Process. 25 (2011) 485-520.
  const ratio = 11.3;
  const races = [2.048, 3.048, 4.048, 3.952, 4.952, 5.952];
  const whining: BenchClip = {
    ...BASE,
    drumHzAt: ramp(12, 18, 12),
    motorRatio: ratio,
    motorDb: -8,
  };

  it("hears the races beside the motor's multiples, on both sides, and none in a motor that whines", () => {
    const worn = { ...whining, tones: races.map((turns) => ({ order: turns * ratio, db: -12 })) };
    const heard = (clip: BenchClip): number =>
      observeLines(benchContext(clip, { error: 0.0005 })).features["line-motor-bearing"]!.value!;
    expect(heard(worn)).toBeLessThan(0.001);
    expect(heard(whining)).toBeGreaterThan(0.05);
  });

  // Nine balls: 3.57 and 5.43 a turn (geometry of 6206); 3.43 is the inner race's sideband, no race's own rate.
  it("names a rate that a race has, not the first sideband it meets", () => {
    const nine = [2.568, 3.568, 4.568, 3.432, 4.432, 5.432];
    const clip = { ...whining, tones: nine.map((turns) => ({ order: turns * ratio, db: -12 })) };
    const { features } = observeLines(benchContext(clip, { error: 0.0005 }));
    const { value, detail } = features["line-motor-bearing"]!;
    expect(value).toBeLessThan(0.01);
    expect(detail!["perMotorTurn"] as number).toBeCloseTo(3.57, 1);
  });

  it("needs no drum where the motor alone is heard, and then says nothing of the drum", () => {
    const clip = { ...whining, tones: races.map((turns) => ({ order: turns * ratio, db: -12 })) };
    const { drumRpm, track, ...rest } = benchSpeed(clip);
    const speed = {
      ...rest,
      drumRpm: null,
      motorToDrum: null,
      motorRpm: { value: drumRpm!.value * ratio, low: 0, high: 0 },
      track: track.map((point) => ({ ...point, drumRpm: null })),
      motorAloneRpm: track.map((point) => point.drumRpm! * ratio),
    };
    const washer = washerById("front-load-belt-universal");
    const context = listen(benchRecording(benchSound(clip)), washer, speed, "spin");
    const { features, lines } = observeLines(context);
    expect(features["line-motor-bearing"]!.value!).toBeLessThan(0.001);
    expect(features["line-drum-bearing"]).toMatchObject({ value: null, missing: "speed" });
    expect(lines.some(({ line }) => line.clock === "drum")).toBe(false);
  });
});
