import { describe, expect, it } from "vitest";
import { createRandom } from "../../src/foundation/random.js";
import { observePump, type PumpFeatures } from "../../src/evidence/pump/observe-pump.js";
import { irregularity } from "../../src/evidence/pump/pump-knock.js";
import { contextOf, type ContextFacts } from "./stroke-context.js";
import { blow, mainsComb, mixIn, noise, throughPhone } from "./stroke-sounds.js";

const SECONDS = 16;
const HEARD: ContextFacts = { lineHz: 50, lineCombDb: 14 };

/** A sound pump: hum, water, and the double knock with which it starts. */
function draining(seed: number): Float64Array {
  const random = createRandom(seed);
  const sound = noise(SECONDS, random, 600).map((v) => v * 0.4);
  mixIn(sound, mainsComb(SECONDS, 50, [0.2, 1, 0.1, 0.4, 0, 0.2]));
  mixIn(sound, blow(600, 0.01, random, 1), 0.2, 4);
  return mixIn(sound, blow(600, 0.01, random, 1), 0.45, 4);
}

const randomTimes = (perSecond: number, seed: number): number[] => {
  const random = createRandom(seed);
  const times: number[] = [];
  for (let t = 1; t < SECONDS - 0.2; t -= Math.log(1 - random.uniform()) / perSecond) times.push(t);
  return times;
};

const pumpOf = (sound: Float64Array, facts: ContextFacts = HEARD): PumpFeatures =>
  observePump(contextOf(throughPhone(sound, 8), facts));

function withKnocks(times: readonly number[]): Float64Array {
  const random = createRandom(3);
  const sound = draining(1);
  for (const time of times)
    mixIn(sound, blow(random.between(700, 2500), 0.006, random, 1), time, 4);
  return sound;
}

describe("pump-knock", () => {
  it("hears debris, and none in a sound pump with its double knock at the start", () => {
    expect(pumpOf(withKnocks(randomTimes(5, 2)))["pump-knock"].value!).toBeGreaterThan(0.5);
    expect(pumpOf(draining(1))["pump-knock"].value!).toBe(0);
  });

  it("does not take even knocks for debris", () => {
    const even = Array.from({ length: 60 }, (_, i) => 1 + 0.24 * i);
    expect(pumpOf(withKnocks(even))["pump-knock"].value!).toBeLessThan(0.1);
  });

  it("asks for hum and for a drum that stands", () => {
    const knocks = withKnocks(randomTimes(5, 2));
    expect(pumpOf(knocks, {})["pump-knock"].missing).toBe("mains");
    const spinning = { ...HEARD, drumRpmAt: () => 800, movement: "steady" } as const;
    expect(pumpOf(knocks, spinning)["pump-knock"].missing).toBe("phase");
  });

  it("trusts knocks little while nothing shows that the drum stands", () => {
    const knocks = withKnocks(randomTimes(5, 2));
    const still = pumpOf(knocks, { ...HEARD, movement: "still" })["pump-knock"];
    const unknown = pumpOf(knocks, HEARD)["pump-knock"];
    expect(unknown.value).toBe(still.value);
    expect(unknown.quality).toBeLessThan(0.5 * still.quality);
  });

  it("irregularity([...]) is 0 for even gaps and near 1 for random ones", () => {
    expect(irregularity([0, 1, 2, 3, 4])).toBeCloseTo(0, 9);
    // Gaps of a Poisson process have a coefficient of variation of 1 (textbook).
    expect(Math.abs(irregularity(randomTimes(40, 5)) - 1)).toBeLessThan(0.15);
  });
});

describe("pump-crackle", () => {
  it("hears bursts of drawn air, not hum and water, and little of debris", () => {
    const air = draining(4);
    const random = createRandom(6);
    for (const time of randomTimes(8, 7)) {
      const seconds = random.between(0.015, 0.06);
      const burst = noise(seconds, random, 4000).map(
        (v, i, all) => v * Math.sin((Math.PI * i) / all.length),
      );
      mixIn(air, burst, time, 1);
    }
    const crackle = pumpOf(air);
    expect(crackle["pump-crackle"].value!).toBeGreaterThan(0.4);
    expect(crackle["pump-knock"].value!).toBeLessThan(0.5);
    expect(pumpOf(draining(4))["pump-crackle"].value!).toBeLessThan(0.12);
  });
});

describe("jet-hiss", () => {
  it("is high for water through a valve, low for a pump's hum and for noise that comes and goes", () => {
    const valve = mixIn(
      noise(SECONDS, createRandom(9), 6000),
      mainsComb(SECONDS, 50, [0, 0.4, 0, 0.1]),
    );
    const gusts = valve.map((v, i) => v * (1 + 0.9 * Math.sin((2 * Math.PI * 6 * i) / 16_000)));
    expect(pumpOf(valve)["jet-hiss"].value!).toBeGreaterThan(0.5);
    expect(pumpOf(draining(2))["jet-hiss"].value!).toBeLessThan(0.3);
    expect(pumpOf(gusts)["jet-hiss"].value!).toBeLessThan(0.1);
  });

  it("is missing where the phone carries no high band or removes noise", () => {
    const hiss = noise(8, createRandom(1), 6000);
    expect(pumpOf(hiss, { bandHz: [200, 3400] })["jet-hiss"].missing).toBe("band");
    const suppressed = pumpOf(hiss, { quality: { noiseSuppressed: true } });
    expect(suppressed["jet-hiss"].missing).toBe("noise-suppressed");
  });
});
