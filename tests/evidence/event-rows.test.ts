import { describe, expect, it } from "vitest";
import { createRandom } from "../../src/foundation/random.js";
import { findImpacts, noiseCeiling } from "../../src/evidence/event/impacts.js";
import { clickChatter } from "../../src/evidence/event/click-chatter.js";
import type { ImpactEvent } from "../../src/evidence/evidence.js";
import { longestSeries } from "../../src/evidence/event/click-series.js";
import { observeEvents, type EventFeatures } from "../../src/evidence/event/observe-events.js";
import { normalTail, rayleighTail, studentTail } from "../../src/evidence/event/tails.js";
import { contextOf, type ContextFacts } from "./stroke-context.js";
import { agitation, blow, mainsComb, mixIn, noise, RATE, throughPhone } from "./stroke-sounds.js";

const quiet = (seconds: number, seed: number, level = 0.3): Float64Array =>
  noise(seconds, createRandom(seed)).map((v) => v * level);

const eventsOf = (sound: Float64Array, facts: ContextFacts = {}, agc = false): EventFeatures =>
  observeEvents(contextOf(throughPhone(sound, 5, agc), facts));

describe("tails of distributions", () => {
  // Abramowitz and Stegun (1964), tables 26.1 and 26.10: P(Z > 1.96) = 0.025, P(Z > 3) = 0.00134990,
  // P(Z > 5) = 2.8665e-7; Student, 10 degrees of freedom: P(T > 2.228) = 0.025.
  it("agree with published tables", () => {
    expect(normalTail(1.959964)).toBeCloseTo(0.025, 6);
    // The approximation's own bound is 7.5e-8.
    expect(Math.abs(normalTail(3) - 0.0013499)).toBeLessThan(7.5e-8);
    expect(normalTail(5) / 2.8665e-7).toBeCloseTo(1, 2);
    expect(normalTail(-1.959964)).toBeCloseTo(0.975, 6);
    expect(Math.abs(studentTail(2.228, 10) - 0.025)).toBeLessThan(0.002);
  });

  // Mardia and Jupp (2000), appendix 2.5 (from memory): for n = 10 the 5 % point of R is 0.540.
  it("give Rayleigh's 5 % point for ten angles", () => {
    expect(rayleighTail(10, 0.54)).toBeCloseTo(0.05, 2);
  });

  // Chi-squared with 4 degrees of freedom (gamma of shape 2): median 3.357, upper 0.1 % point 18.467,
  // Abramowitz and Stegun table 26.8. The lower spread is that of the logarithm: sqrt(trigamma(2)) = 0.803.
  it("put noise's ceiling near the gamma law's own quantile", () => {
    expect(noiseCeiling(0.803, 3.0902)).toBeGreaterThan(0.75 * (18.467 / 3.357));
    expect(noiseCeiling(0.803, 3.0902)).toBeLessThan(1.35 * (18.467 / 3.357));
  });
});

describe("findImpacts(sound)", () => {
  it("finds every knock within 15 ms and nothing else, with gain control and echo", () => {
    const random = createRandom(3);
    const sound = noise(20, random);
    const times = Array.from({ length: 12 }, (_, i) => 1 + 1.5 * i + random.between(0, 0.7));
    for (const time of times) mixIn(sound, blow(1500, 0.008, random, 1), time, 6);
    const found = findImpacts(contextOf(throughPhone(sound, 3, true)));
    for (const time of times) {
      expect(found.some((impact) => Math.abs(impact.timeSeconds - time) < 0.015)).toBe(true);
    }
    expect(found.length).toBeLessThanOrEqual(14);
  });

  it("finds none in a minute of steady noise, nor where the level steps", () => {
    expect(findImpacts(contextOf(throughPhone(noise(60, createRandom(1)), 1)))).toEqual([]);
    const stepping = noise(20, createRandom(2)).map((v, i) => v * ((i / RATE) % 4 < 2 ? 1 : 0.2));
    expect(findImpacts(contextOf(stepping)).length).toBeLessThanOrEqual(1);
  });

  it("tells a dull bang from a hard click, and leaves out what sounds while someone speaks", () => {
    const random = createRandom(7);
    const sound = noise(12, random);
    mixIn(sound, blow(130, 0.06, random, 0), 3, 8);
    mixIn(sound, blow(4000, 0.003, random, 1), 6, 5);
    mixIn(sound, blow(4000, 0.003, random, 1), 9, 5);
    const [bang, click, third] = findImpacts(contextOf(sound, { masked: [[8.5, 9.5]] }));
    expect(bang!.centreHz).toBeLessThan(400);
    expect(click!.centreHz).toBeGreaterThan(1500);
    expect(bang!.decaySeconds).toBeGreaterThan(click!.decaySeconds);
    expect(third).toBeUndefined();
  });
});

describe("single blows of a tumbling drum", () => {
  const knocks = (times: readonly number[], hz: number, decay: number): EventFeatures => {
    const random = createRandom(21);
    const sound = noise(16, random);
    for (const time of times) mixIn(sound, blow(hz, decay, random, 0.2), time, 7);
    return eventsOf(sound, { axis: "horizontal", phase: "wash" });
  };
  const even = Array.from({ length: 18 }, (_, i) => 0.7 + 0.8 * i);
  const random = createRandom(22);
  const uneven = Array.from({ length: 18 }, () => random.between(0.5, 15.5)).sort((a, b) => a - b);

  it("keep its beat when a lifter drops each turn, and none when they come by chance", () => {
    expect(knocks(even, 1500, 0.006)["tumble-knocks"].value!).toBeLessThan(0.01);
    expect(knocks(uneven, 1500, 0.006)["tumble-knocks"].value!).toBeGreaterThan(0.05);
  });

  it("are not called a relay's chatter", () => {
    expect(knocks(even, 1500, 0.006)["click-chatter"].value!).toBeGreaterThan(0.05);
  });

  it("are counted, and told apart by pitch", () => {
    const relay = knocks(uneven, 4000, 0.002);
    const lifter = knocks(uneven, 1500, 0.004);
    expect(Math.abs(relay["click-rate"].value! - 18 / 16)).toBeLessThan(0.35);
    expect(relay["click-pitch"].value!).toBeGreaterThan(1.5 * lifter["click-pitch"].value!);
  });
});

describe("dull blows", () => {
  it("are counted while the drum runs down, and are missing where there are none", () => {
    const random = createRandom(31);
    const sound = noise(14, random);
    // From 4 to 1.5 blows a second.
    let time = 0.6;
    const gaps: number[] = [];
    while (time < 13) {
      mixIn(sound, blow(160, 0.04, random, 0.1), time, 8);
      gaps.push(1 / (4 - (2.5 * time) / 13));
      time += gaps.at(-1)!;
    }
    const middle = gaps.sort((a, b) => a - b)[gaps.length >> 1]!;
    const rate = eventsOf(sound, { phase: "coast" })["thump-rate"];
    expect(Math.abs(rate.value! * middle - 1)).toBeLessThan(0.2);
    expect(rate.quality).toBeGreaterThan(0.5);
    expect(eventsOf(noise(14, random), { phase: "coast" })["thump-rate"].value).toBeNull();
  });
});

describe("findImpacts(a clip with silent pauses)", () => {
  it("hears a click in a pause that the mask leaves out as silent", () => {
    const sound = noise(14, createRandom(8)).map(
      (v, i) => v * (i / RATE > 6 && i / RATE < 10 ? 0.02 : 1),
    );
    mixIn(sound, blow(3000, 0.003, createRandom(1), 1), 8, 0.5);
    const found = findImpacts(contextOf(sound, { masked: [[6, 10]] }));
    expect(found.some((impact) => Math.abs(impact.timeSeconds - 8) < 0.02)).toBe(true);
  });
});

describe("clicks", () => {
  const click = (seed: number): Float64Array => blow(2600, 0.004, createRandom(seed), 1);

  it("calls retries with a buzz between a series, one click-buzz-click none", () => {
    const retries = quiet(22, 11);
    const once = quiet(22, 12);
    for (let k = 0; k < 6; k++) {
      mixIn(retries, click(k), 2 + 3 * k, 2);
      mixIn(retries, mainsComb(1.4, 60, [0, 0.3, 0, 0.1]), 2 + 3 * k);
    }
    mixIn(once, click(1), 5, 2);
    mixIn(once, mainsComb(3, 60, [0, 0.3, 0, 0.1]), 5);
    mixIn(once, click(2), 8, 2);
    const series = eventsOf(retries)["click-series"];
    expect(series.value!).toBeGreaterThan(1.1);
    expect(series.detail?.["gapSeconds"]).toBeCloseTo(3, 1);
    expect(eventsOf(once)["click-series"].value!).toBe(0);
  });

  it("calls a relay's 6 clicks a second chatter, random zips none", () => {
    const random = createRandom(13);
    const relay = quiet(16, 13);
    const zips = quiet(16, 14);
    for (let t = 3; t < 9; t += 1 / 6) mixIn(relay, click(1), t * (1 + 0.002 * random.normal()), 2);
    for (let t = 0.5; t < 16; t -= 0.3 * Math.log(1 - random.uniform()))
      mixIn(zips, click(2), t, 2);
    expect(eventsOf(relay, {}, true)["click-chatter"].value!).toBeLessThan(1e-4);
    expect(eventsOf(zips, {}, true)["click-chatter"].value!).toBeGreaterThan(0.01);
  });

  it("counts a click and its answer 20 ms later once, so that a few pairs make no rhythm", () => {
    const at = (timeSeconds: number): ImpactEvent => ({
      timeSeconds,
      riseDb: 12,
      centreHz: 2500,
      decaySeconds: 0.01,
    });
    const silent = contextOf(quiet(16, 17));
    const pairs = [3, 3.55, 4.65, 5.2].flatMap((t) => [at(t), at(t + 0.02)]);
    expect(clickChatter(silent, pairs).value!).toBe(1);
    const relay = Array.from({ length: 9 }, (_, i) => at(3 + 0.55 * i));
    expect(clickChatter(silent, relay).value!).toBeLessThan(0.05);
  });

  it("does not judge clicks while an agitator works, whose dogs click as evenly", () => {
    const strokes = agitation(12, { strokesPerMinute: 95, duty: 0.65, clack: 5 }, createRandom(2));
    expect(eventsOf(strokes)["click-chatter"].missing).toBe("phase");
  });

  it("does not take clicks at the drum's own rate for chatter", () => {
    const ticking = quiet(16, 15);
    for (let t = 0.5; t < 16; t += 1 / 6) mixIn(ticking, click(1), t, 2);
    const turning = { drumRpmAt: () => 360, movement: "steady" } as const;
    expect(eventsOf(ticking)["click-chatter"].value!).toBeLessThan(1e-4);
    expect(eventsOf(ticking, turning)["click-chatter"].value!).toBe(1);
  });

  it("longestSeries([...]) passes over strays and wants gaps of 1 to 5 s", () => {
    expect(longestSeries([0, 2, 2.9, 4.1, 6, 8.1]).times).toEqual([0, 2, 4.1, 6, 8.1]);
    expect(longestSeries([0, 7, 14, 21]).times).toEqual([]);
  });
});

describe("bang and ping", () => {
  it("hears one bang with which the water's sound ends, not the same bang while it goes on", () => {
    const random = createRandom(21);
    const water = (endsAt: number): Float64Array =>
      mixIn(
        noise(18, createRandom(22), 6000).map((v, i) => v * (i / RATE < endsAt ? 1 : 0.1)),
        blow(120, 0.08, random, 0.6),
        10,
        8,
      );
    expect(eventsOf(water(10))["single-bang"].value!).toBeGreaterThan(6);
    expect(eventsOf(water(18))["single-bang"].value!).toBeLessThan(2);
  });

  it("tells a coin's ring from a click in an echoing room", () => {
    const rings = quiet(14, 23);
    const clicks = quiet(14, 24);
    for (let t = 1; t < 13; t += 1.1) {
      mixIn(rings, blow(4300 + 40 * t, 0.025, createRandom(t), 0.1), t, 1.5);
      mixIn(clicks, blow(3000, 0.003, createRandom(t), 1), t, 1.5);
    }
    const ring = eventsOf(rings).ping;
    expect(ring.value!).toBeGreaterThan(12);
    expect(Number(ring.detail?.["hz"])).toBeGreaterThan(4000);
    expect(eventsOf(clicks).ping.value!).toBeLessThan(8);
    const narrow = observeEvents(contextOf(rings, { bandHz: [200, 3400] }));
    expect(narrow.ping.missing).toBe("band");
  });
});

describe("start of the drive", () => {
  const start = (clatters: boolean): Float64Array => {
    const random = createRandom(31);
    const sound = noise(26, random, 1500).map((v, i) => {
      const t = i / RATE - 7;
      return v * (t < 0 ? 0.08 : 0.4 + 0.6 * Math.min(1, t / 15));
    });
    // Splines pass N times the speed difference, which falls to nothing in 1.6 s.
    for (let k = 0; clatters && k < 60; k++) {
      const t = 1.6 * (1 - Math.sqrt(1 - k / 60));
      mixIn(sound, blow(1500, 0.004, random, 1), 7 + t, 3);
    }
    return sound;
  };
  const facts = {
    drumRpmAt: (t: number) => (t < 8 ? null : 30 + 20 * (t - 8)),
    movement: "rising",
  } as const;

  it("hears clatter whose rate falls as the basket catches up", () => {
    const faulty = eventsOf(start(true), facts);
    expect(faulty["start-clatter"].value!).toBeGreaterThan(2.5);
    expect(faulty["start-clatter-falling"].value!).toBeLessThan(0.02);
  });

  it("hears none in a smooth start, and has nothing to say without a start", () => {
    const sound = eventsOf(start(false), facts);
    expect(sound["start-clatter"].value!).toBeLessThan(1);
    expect(sound["start-clatter-falling"].value!).toBe(1);
    expect(eventsOf(noise(12, createRandom(1)))["start-clatter"].missing).toBe("no-events");
  });
});

describe("power cut while the drum runs down", () => {
  const speed = (t: number): number => (t < 8 ? 900 : 900 * Math.exp(-(t - 8) / 12));
  const runDown = (electric: number, drum: number): Float64Array => {
    const a = noise(30, createRandom(41), 1500);
    const b = noise(30, createRandom(42), 3000);
    return a.map((v, i) => {
      const t = i / RATE;
      return v * drum * (speed(t) / 900) ** 1.5 + b[i]! * (t < 8 ? electric : 0.02);
    });
  };
  const facts = { drumRpmAt: speed, movement: "falling", phase: "spin" } as const;

  it("tells noise of the drive, which stops at once, from noise of the drum, which dies down", () => {
    const drive = eventsOf(runDown(2, 0.5), facts);
    const drum = eventsOf(runDown(0.1, 1.2), facts);
    expect(drive["noise-stops-with-power"].value!).toBeLessThan(0.01);
    expect(drum["noise-stops-with-power"].value!).toBeGreaterThan(0.2);
    expect(drum["noise-falls-with-drum"].value!).toBeLessThan(0.01);
  });

  it("takes no drop for a cut of the power while the drum keeps its speed", () => {
    // Run up, then held: the noise drops by half its level in the middle of the hold.
    const held = (t: number): number => Math.min(900, 300 + 100 * t);
    const sound = noise(30, createRandom(43), 2000).map((v, i) => (i / RATE < 18 ? 2 * v : v));
    const dropped = eventsOf(sound, { drumRpmAt: held, movement: "rising", phase: "spin" });
    expect(dropped["noise-stops-with-power"].value ?? 1).toBeGreaterThan(0.2);
    const cut = eventsOf(runDown(2, 0.5), facts);
    expect(cut["noise-stops-with-power"].value!).toBeLessThan(0.01);
  });

  it("says nothing where the drum does not slow down or the phone pumps its gain", () => {
    const steady = eventsOf(noise(12, createRandom(2)), {
      drumRpmAt: () => 800,
      movement: "steady",
    });
    expect(steady["noise-stops-with-power"].missing).toBe("phase");
    const pumped = eventsOf(runDown(0.1, 1), { ...facts, quality: { gainPumping: true } });
    expect(pumped["noise-falls-with-drum"].missing).toBe("gain-pumping");
  });
});
