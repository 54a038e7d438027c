import { describe, expect, it } from "vitest";
import { PHASES, type Phase } from "../../src/machine/words.js";
import { createRandom } from "../../src/foundation/random.js";
import { guessPhase } from "../../src/evidence/phase/guess-phase.js";
import { PHASE_SIGNS } from "../../src/evidence/phase/phase-signs.data.js";
import { observePump } from "../../src/evidence/pump/observe-pump.js";
import { contextOf, type ContextFacts } from "./stroke-context.js";
import { agitation, mainsComb, mixIn, noise, throughPhone } from "./stroke-sounds.js";

const SECONDS = 14;
const rush = (cornerHz = 800): Float64Array => noise(SECONDS, createRandom(1), cornerHz);

function guess(sound: Float64Array, facts: ContextFacts): ReturnType<typeof guessPhase> {
  const context = contextOf(throughPhone(sound, 2), facts);
  return guessPhase(context, observePump(context));
}

/** The phase that fits best, named or not. */
function likeliest({ scores }: ReturnType<typeof guessPhase>): Phase {
  const known = PHASES.filter((phase) => phase !== "unknown");
  return known.reduce((best, phase) => (scores[phase] > scores[best] ? phase : best));
}

describe("guessPhase(context, features)", () => {
  it("reads spin from a fast drum, steady or rising, and tumbling from a slow one", () => {
    expect(guess(rush(), { drumRpmAt: () => 900, movement: "steady" }).label).toBe("spin");
    expect(guess(rush(), { drumRpmAt: (t) => 60 + 50 * t, movement: "rising" }).label).toBe("spin");
    expect(guess(rush(), { drumRpmAt: () => 48, movement: "stop-and-go" }).label).toBe("wash");
  });

  it("reads the wash from an agitator's strokes", () => {
    const sound = agitation(SECONDS, { strokesPerMinute: 100, duty: 0.65 }, createRandom(3));
    expect(guess(sound, {}).label).toBe("wash");
  });

  it("reads drain from hum without a shaft, fill when a jet hisses beside it", () => {
    const hum = { lineHz: 60, lineCombDb: 14 } as const;
    const comb = mainsComb(SECONDS, 60, [0.2, 1, 0.1, 0.4]);
    const pump = mixIn(
      rush(500).map((v) => 0.4 * v),
      comb,
    );
    const valve = mixIn(rush(6000), comb, 0, 0.3);
    const still = { ...hum, movement: "still" } as const;
    expect(likeliest(guess(pump, still))).toBe("drain");
    const fill = guess(valve, still);
    expect(fill.scores.fill).toBeGreaterThan(fill.scores.drain);
  });

  it("takes a speed that was not heard for a standing drum only when hum leads the sound", () => {
    const hum = { lineHz: 60, lineCombDb: 14 } as const;
    const comb = mainsComb(SECONDS, 60, [0.2, 1, 0.1, 0.4]);
    const context = contextOf(throughPhone(mixIn(rush(500), comb), 2), hum);
    const share = (value: number): ReturnType<typeof guessPhase> =>
      guessPhase(context, { "mains-share": { value, quality: 1 } });
    expect(share(0.02).label).toBe("unknown");
    expect(likeliest(share(0.6))).toBe("drain");
    expect(share(0.6).scores.drain).toBeGreaterThan(1.5 * share(0.02).scores.drain);
  });

  it("reads a run-down from a level that falls all the time, a run-up from one that rises, none from a step", () => {
    const changing = (dbAt: (share: number) => number): ReturnType<typeof guessPhase> =>
      guess(
        rush().map((v, i, all) => v * 10 ** (dbAt(i / all.length) / 20)),
        {},
      );
    const flat = changing(() => 0);
    expect(changing((share) => -16 * share).label).toBe("coast");
    const rising = changing((share) => -16 + 16 * share);
    expect(rising.scores.spin).toBeGreaterThan(1.5 * flat.scores.spin);
    expect(rising.scores.coast).toBeLessThan(0.1);
    expect(changing((share) => (share < 0.8 ? 0 : -16)).scores.coast).toBeCloseTo(
      flat.scores.coast,
      1,
    );
  });

  it("leaves a slowing drum open between run-down and braking, and never names a hand-spin", () => {
    const slowing = guess(rush(), { drumRpmAt: (t) => 900 - 55 * t, movement: "falling" });
    expect(slowing.scores.coast).toBeGreaterThan(0.2);
    expect(slowing.scores.spin).toBeGreaterThan(0.2);
    const slow = guess(rush(), { drumRpmAt: (t) => 60 - 4 * t, movement: "falling" });
    expect(slow.label).not.toBe("hand-spin");
  });

  it("answers unknown when nothing is heard but noise", () => {
    expect(guess(rush(), {}).label).toBe("unknown");
  });

  it("takes a told phase for given and still shows what the sound says", () => {
    const told = guess(rush(), { drumRpmAt: () => 900, movement: "steady", phase: "drain" });
    expect(told.label).toBe("drain");
    expect(told.given).toBe(true);
    expect(told.scores.spin).toBeGreaterThan(0.5);
    expect(PHASES.reduce((sum, phase) => sum + told.scores[phase], 0)).toBeCloseTo(1, 9);
  });

  it("draws on signs that each carry a source", () => {
    expect(new Set(PHASE_SIGNS.map((sign) => sign.id)).size).toBe(PHASE_SIGNS.length);
    for (const sign of PHASE_SIGNS) expect(sign.source.length, sign.id).toBeGreaterThan(10);
  });
});
