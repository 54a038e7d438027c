import { readFileSync, readdirSync } from "node:fs";
import FFT from "fft.js";
import { describe, expect, test } from "vitest";
import { truthSchema } from "../../src/evaluation/truth.js";
import { PROFILES } from "../../src/machine/washers.js";
import { COMPONENTS } from "../../src/machine/words.js";
import { drawClip } from "./clip.js";
import { turnsOf } from "./course.js";
import { Dice } from "./dice.js";
import { earWeighted } from "./level.js";
import { LEAST_LIKELIHOOD, LIKELIHOODS } from "./likelihoods.data.js";
import { bearingOrders, beltTurnsPerPulleyTurn } from "./machine.js";
import { playPlot } from "./play.js";
import { FAULTY_COMPONENTS, plotsOf, RECIPES, type Plot } from "./plot.js";
import type { Scene } from "./scene.js";
import { fromDb, rms, type Signal } from "./sound.js";

/** Power of a signal at the bins of a Hann window; bins are rate / length apart. */
function spectrum(x: ArrayLike<number>, length: number): Float64Array {
  const fft = new FFT(length);
  const windowed = Array.from(
    { length },
    (_, k) => (x[k] ?? 0) * (0.5 - 0.5 * Math.cos((2 * Math.PI * k) / length)),
  );
  const out = new Float64Array(2 * length);
  fft.realTransform(out, Float64Array.from(windowed));
  return Float64Array.from(
    { length: length / 2 },
    (_, k) => out[2 * k]! ** 2 + out[2 * k + 1]! ** 2,
  );
}

/** Loudness over time at 200 Hz, mean taken away. */
function envelope(x: Signal, rate: number): number[] {
  const step = Math.round(rate / 200);
  const rows = Array.from({ length: Math.floor(x.length / step) }, (_, k) =>
    rms(x.subarray(k * step, (k + 1) * step)),
  );
  const mean = rows.reduce((sum, v) => sum + v, 0) / rows.length;
  return rows.map((v) => v / mean - 1);
}

function plotOf(name: string, phase: Plot["phase"], machine?: string): Plot {
  const recipe = RECIPES.find((each) => each.name.startsWith(name))!;
  const found = plotsOf(recipe).find(
    (plot) => plot.phase === phase && plot.profile.id === (machine ?? plot.profile.id),
  )!;
  return { recipe, phase, profile: found.profile };
}

/** Number by number; `toEqual` takes seconds for so many. */
const sameSamples = (a: Signal, b: Signal): boolean =>
  a.length === b.length && a.every((v, k) => v === b[k]);

describe("what is drawn", () => {
  test("the same seed gives the same samples and truth, another seed others", () => {
    const [one, again, other] = [
      drawClip(8, { seconds: 8 }),
      drawClip(8, { seconds: 8 }),
      drawClip(14, { seconds: 8 }),
    ];
    expect(sameSamples(again.samples, one.samples)).toBe(true);
    expect(again.truth).toEqual(one.truth);
    expect(sameSamples(other.samples, one.samples)).toBe(false);
  });

  test("every part can be broken, in every phase where it is likely, on every machine that has it", () => {
    const parts = COMPONENTS.filter((part) => part !== "normal" && part !== "other");
    expect([...FAULTY_COMPONENTS].sort()).toEqual([...parts].sort());
    for (const part of parts) {
      const own = RECIPES.filter(({ component }) => component === part);
      expect(own.length, part).toBeGreaterThan(1);
      for (const profile of PROFILES.filter(({ components }) => components.includes(part))) {
        expect(
          own.some((recipe) => plotsOf(recipe).some((plot) => plot.profile.id === profile.id)),
          `${part} on ${profile.id}`,
        ).toBe(true);
      }
    }
    const used = new Set(RECIPES.map(({ row }) => row));
    expect(LIKELIHOODS.map(({ id }) => id).filter((id) => !used.has(id))).toEqual([]);
    expect(RECIPES.flatMap(plotsOf).every(({ likelihood }) => likelihood >= LEAST_LIKELIHOOD)).toBe(
      true,
    );
  });

  test("shares of normal machines and of other sounds are kept, truths obey the schema", () => {
    const normal = drawClip(8, { seconds: 8, normalShare: 1, notWasherShare: 0 }).truth;
    expect(normal).toMatchObject({ washer: true, faults: [], character: "none" });
    const other = drawClip(8, { seconds: 8, notWasherShare: 1 }).truth;
    expect(other).toMatchObject({ washer: false, faults: [] });
    const faulty = drawClip(8, { seconds: 8, normalShare: 0, notWasherShare: 0 });
    expect(faulty.truth.faults).toHaveLength(1);
    for (const truth of [normal, other, faulty.truth])
      expect(truthSchema.safeParse(truth).success).toBe(true);
    expect([16_000, 22_050, 32_000, 44_100, 48_000]).toContain(faulty.sampleRateHz);
  });

  test("a fault that a phase or machine cannot have is refused by name", () => {
    expect(() => drawClip(1, { fault: "motor-brushes", machine: "front-load-direct" })).toThrow(
      /motor-brushes.*front-load-direct/,
    );
    expect(() => drawClip(1, { seconds: 3 })).toThrow(/8 to 40/);
  });
});

describe("levels and speeds hold what the truth says", () => {
  test("fault over background, weighted by ear over the loud frames, is the told number", () => {
    // Measured another way than the mixer does: fixed noise-like parts, whole-clip levels.
    const stems = playPlot(plotOf("roar", "spin"), 10, 16_000, new Dice("level"));
    const [fault, under] = [stems.fault!, stems.background].map(
      (x) => 20 * Math.log10(rms(earWeighted(x, 16_000))),
    ) as [number, number];
    expect(Math.abs(fault - under - stems.faultToBackgroundDb!)).toBeLessThan(2.5);
  });

  test("weighting by ear takes 19 dB at 100 Hz and 3 dB at 500 Hz (IEC 61672-1, table of A)", () => {
    const level = (hz: number): number => {
      const tone = Float32Array.from({ length: 32_000 }, (_, k) =>
        Math.sin((2 * Math.PI * hz * k) / 32_000),
      );
      return 20 * Math.log10(rms(earWeighted(tone, 32_000).subarray(8000)));
    };
    expect(Math.abs(level(100) - level(1000) + 19.1)).toBeLessThan(1);
    expect(Math.abs(level(500) - level(1000) + 3.2)).toBeLessThan(1);
  });

  test("the roar of a drum bearing swells once a turn at the truth's speed", () => {
    for (let seed = 0; ; seed++) {
      const { scene, fault } = playPlot(
        plotOf("roar", "spin"),
        10.5,
        16_000,
        new Dice(`swell ${String(seed)}`),
      );
      if (scene.course.plateauRpm === null) continue;
      const turnHz = scene.course.plateauRpm / 60;
      const power = spectrum(envelope(fault!, 16_000), 2048);
      const at = (hz: number): number =>
        Math.max(...[-1, 0, 1].map((k) => power[Math.round((hz / 200) * 2048) + k]!));
      const near = [0.8, 0.85, 1.15, 1.2].map((part) => at(part * turnHz));
      expect(at(turnHz)).toBeGreaterThan(5 * Math.max(...near));
      return;
    }
  });

  test("tumbling turns at 40-55 rpm, a plateau holds to a percent, a run-up climbs", () => {
    const profile = PROFILES.find(({ id }) => id === "front-load-belt-universal")!;
    const speeds = ({ course, rate }: Scene): number[] =>
      Array.from({ length: 10 }, (_, k) => 60 * course.drumHz[Math.floor((k + 0.5) * 0.8 * rate)]!);
    const tumble = playPlot(
      { recipe: null, phase: "wash", profile },
      8,
      16_000,
      new Dice("t"),
    ).scene;
    expect(Math.max(...speeds(tumble))).toBeGreaterThan(38);
    expect(Math.max(...speeds(tumble))).toBeLessThan(58);
    const seen = new Set<string>();
    for (let k = 0; seen.size < 3; k++) {
      const { scene } = playPlot(
        { recipe: null, phase: "spin", profile },
        8,
        16_000,
        new Dice(`s${String(k)}`),
      );
      const rpm = speeds(scene);
      seen.add(scene.course.kind);
      if (scene.course.kind === "plateau")
        expect((Math.max(...rpm) - Math.min(...rpm)) / rpm[0]!).toBeLessThan(0.02);
      if (scene.course.kind === "run-up") expect(rpm[9]!).toBeGreaterThan(rpm[0]! + 15);
    }
  });
});

describe("rates come from the shafts", () => {
  test("ball-pass orders 3.05 / 4.95 and 3.57 / 5.43 (published table of a university bearing set: 6203 3.053, 6205 3.585)", () => {
    expect(bearingOrders("6204").outer).toBeCloseTo(3.05, 2);
    expect(bearingOrders("6204").inner).toBeCloseTo(4.95, 2);
    expect(bearingOrders("6206").outer).toBeCloseTo(3.57, 2);
    expect(bearingOrders("6206").inner).toBeCloseTo(5.43, 2);
    expect(bearingOrders("6203").outer).toBeCloseTo(3.053, 3);
    expect(bearingOrders("6203").ball).toBeCloseTo(3.987, 2);
  });

  test("a belt turns pi D / L times as fast as its pulley: 270 mm, 1230 mm, 1200 rpm give 13.79 Hz (geometry)", () => {
    expect((1200 / 60) * beltTurnsPerPulleyTurn(270, 1230)).toBeCloseTo(13.792, 2);
  });

  test("slaps of a torn belt come at the belt's turn, not the drum's", () => {
    for (let seed = 0; ; seed++) {
      const { scene, fault } = playPlot(
        plotOf("slap", "spin", "front-load-belt-bldc"),
        10.5,
        16_000,
        new Dice(`belt ${String(seed)}`),
      );
      if (scene.course.plateauRpm === null) continue;
      const drumHz = scene.course.plateauRpm / 60;
      const power = spectrum(envelope(fault!, 16_000), 2048);
      const at = (hz: number): number =>
        [-1, 0, 1].reduce((sum, k) => sum + power[Math.round((hz / 200) * 2048) + k]!, 0);
      const belt = [1, 2, 3].reduce(
        (sum, k) => sum + at(k * drumHz * scene.machine.beltPerInput),
        0,
      );
      expect(belt).toBeGreaterThan(4 * (at(drumHz) + at(2 * drumHz) + at(3 * drumHz)));
      return;
    }
  });

  test("hum of a held pump stands on multiples of the mains alone", () => {
    const { scene, fault } = playPlot(plotOf("held fast", "drain"), 10, 16_000, new Dice("hum"));
    const length = 65_536;
    const power = spectrum(fault!.subarray(fault!.length - length), length);
    let [on, off] = [0, 0];
    power.forEach((v, k) => {
      const order = ((k / length) * 16_000) / scene.machine.lineHz;
      if (Math.abs(order - Math.round(order)) * scene.machine.lineHz < 2) on += v;
      else off += v;
    });
    expect(on).toBeGreaterThan(100 * off);
  });

  test("turns are the sum of the rate", () => {
    expect(turnsOf(new Float32Array(8000).fill(20), 8000).at(-1)).toBeCloseTo(20, 3);
    expect(fromDb(6.0206)).toBeCloseTo(2, 4);
  });
});

test("nothing is shared with the other simulators or with what listens", () => {
  for (const file of readdirSync(import.meta.dirname)) {
    const imports = [
      ...readFileSync(`${import.meta.dirname}/${file}`, "utf8").matchAll(/from "(\.\.\/[^"]+)"/g),
    ].map((found) => found[1]!);
    const foreign = imports.filter(
      (path) =>
        !/^\.\.\/\.\.\/src\/(machine\/(words|profile|washers)|evaluation\/truth)\.js$/.test(path),
    );
    expect(foreign, file).toEqual([]);
  }
});
