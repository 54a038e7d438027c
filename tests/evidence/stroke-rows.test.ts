import { describe, expect, it } from "vitest";
import { createRandom } from "../../src/foundation/random.js";
import { findStrokes } from "../../src/evidence/stroke/find-strokes.js";
import { observeStrokes } from "../../src/evidence/stroke/observe-strokes.js";
import { contextOf } from "./stroke-context.js";
import { agitation, noise, RATE, throughPhone, type StrokeRecipe } from "./stroke-sounds.js";

const SECONDS = 16;

const recorded = (seed: number, recipe: Partial<StrokeRecipe>): Float64Array =>
  throughPhone(
    agitation(
      SECONDS,
      { strokesPerMinute: 95, duty: 0.65, pauseLevel: 0.15, ...recipe },
      createRandom(seed),
    ),
    seed,
    seed % 2 === 0,
  );

const rows = (seed: number, recipe: Partial<StrokeRecipe>): ReturnType<typeof observeStrokes> =>
  observeStrokes(contextOf(recorded(seed, recipe), { lineHz: 60, lineCombDb: 8 }));

describe("observeStrokes(agitation heard by a phone in a room)", () => {
  // Trade reference 1.2 and 5.4: 60-220 one-way strokes a minute (from memory).
  it.each([
    [62, 1],
    [95, 2],
    [140, 3],
    [190, 4],
  ])("counts %i strokes a minute within 4 %", (strokesPerMinute, seed) => {
    const rate = rows(seed, { strokesPerMinute })["stroke-rate"];
    expect(60 * rate.value!).toBeGreaterThan(0.96 * strokesPerMinute);
    expect(60 * rate.value!).toBeLessThan(1.04 * strokesPerMinute);
  });

  it("hears gear growl in the strokes, and none in a sound machine's hum, whine and rush", () => {
    for (const seed of [1, 2]) {
      expect(rows(seed, {})["stroke-growl"].value!).toBeLessThan(1.2);
      expect(rows(seed, { growl: 0.8 })["stroke-growl"].value!).toBeGreaterThan(2);
    }
  });

  it("hears a clack at each stroke's start over the stroke's own noise", () => {
    for (const seed of [1, 2]) {
      expect(rows(seed, {})["stroke-clack"].value!).toBeLessThan(2);
      const clack = rows(seed, { clack: 6 })["stroke-clack"];
      expect(clack.value!).toBeGreaterThan(5);
      expect(clack.detail?.["at"]).toBe("start");
    }
  });

  it("tells clicks in every second stroke from clicks in all and in none", () => {
    const oneWay = rows(1, { oneWay: 2.5 });
    expect(oneWay["stroke-one-way"].value!).toBeGreaterThan(1.5);
    expect(oneWay["stroke-rattle"].value!).toBeGreaterThan(0.5);
    expect(rows(1, {})["stroke-one-way"].value!).toBeLessThan(0.4);
    expect(rows(1, { clack: 6 })["stroke-one-way"].value!).toBeLessThan(0.4);
  });

  it("hears that gear tones rise and fall with each stroke", () => {
    expect(rows(1, { growl: 0.8, strokesPerMinute: 70 })["stroke-chirp"].value!).toBeLessThan(0.01);
    expect(rows(1, { strokesPerMinute: 70 })["stroke-chirp"].value!).toBeGreaterThan(0.01);
  });

  it("is unmoved by gain", () => {
    const sound = recorded(3, { clack: 4 });
    const loud = observeStrokes(contextOf(sound));
    const soft = observeStrokes(contextOf(sound.map((v) => v * 0.01)));
    for (const [id, { value }] of Object.entries(loud)) {
      expect(soft[id as keyof typeof soft].value, id).toBeCloseTo(value!, 2);
    }
  });
});

describe("findStrokes(what is no agitation)", () => {
  const background = noise(SECONDS, createRandom(9));
  const beating = (hz: number, depth: number): Float64Array =>
    background.map((v, i) => v * (1 + depth * Math.sin((2 * Math.PI * hz * i) / RATE)));

  it("finds none in steady noise and in a drum's smooth modulation", () => {
    expect(findStrokes(contextOf(throughPhone(background, 1)))).toBeNull();
    expect(findStrokes(contextOf(throughPhone(beating(0.8, 0.7), 2)))).toBeNull();
    expect(findStrokes(contextOf(throughPhone(beating(2.4, 0.5), 3, true)))).toBeNull();
  });

  it("calls seconds on and seconds off cycles, not strokes", () => {
    const tumbling = noise(40, createRandom(4)).map((v, i) => v * ((i / RATE) % 13 < 9 ? 1 : 0.1));
    const pattern = findStrokes(contextOf(throughPhone(tumbling, 4)));
    expect(pattern?.kind).toBe("cycles");
    expect(pattern!.periodSeconds).toBeGreaterThan(12);
    expect(pattern!.periodSeconds).toBeLessThan(14);
  });

  it("looks for no agitator in a front loader, and says why rows are missing", () => {
    const sound = recorded(1, {});
    expect(findStrokes(contextOf(sound, { axis: "horizontal" }))?.kind).not.toBe("agitation");
    expect(findStrokes(contextOf(sound, { axis: "vertical" }))?.kind).toBe("agitation");
    const spin = observeStrokes(contextOf(sound, { phase: "spin" }));
    expect(spin["stroke-growl"]).toEqual({ value: null, quality: 0, missing: "phase" });
    const still = observeStrokes(contextOf(throughPhone(background, 1)));
    expect(still["stroke-rate"].missing).toBe("no-events");
  });

  it("doubts strokes at the rate of a drum whose turning is heard", () => {
    const sound = recorded(1, {});
    const free = observeStrokes(contextOf(sound))["stroke-clack"].quality;
    const locked = observeStrokes(contextOf(sound, { drumRpmAt: () => 95, movement: "steady" }))[
      "stroke-clack"
    ].quality;
    expect(locked).toBeLessThan(0.4 * free);
  });
});
