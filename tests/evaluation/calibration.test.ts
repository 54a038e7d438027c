import { describe, expect, it } from "vitest";
import { calibrationOf } from "../../src/evaluation/calibration.js";
import type { Pair } from "../../src/evaluation/pair.js";
import { createRandom } from "../../src/foundation/random.js";

/** Answers that claim a chance for the drum bearing, right in a share of the clips. */
function claims(
  count: number,
  chanceAt: (share: number) => number,
  rightAt: (k: number) => boolean,
) {
  return Array.from({ length: count }, (_, k): Pair => {
    const chance = chanceAt((k + 0.5) / count);
    return {
      truth: {
        schema: "washer-noise/truth@1",
        file: `${k}.wav`,
        washer: true,
        faults: [rightAt(k) ? "drum-bearing" : "drive-belt"],
      },
      answer: {
        verdict: "likely",
        character: "grinding",
        components: [
          { component: "drum-bearing", probability: chance },
          { component: "drive-belt", probability: 1 - chance },
        ],
        drumRpm: null,
      },
    };
  });
}

describe("calibration", () => {
  it("has the error of claims that are all 0.2 too high, inside its interval", () => {
    const pairs = claims(
      200,
      () => 0.7,
      (k) => k % 2 === 0,
    );
    const { ece } = calibrationOf(pairs, createRandom(1))!;
    expect(ece.value).toBeCloseTo(0.2, 6);
    expect(ece.low).toBeLessThan(0.2);
    expect(ece.low).toBeGreaterThan(0.1);
    expect(ece.high).toBeGreaterThan(0.2);
  });

  it("does not hold against claims that are right as often as they say what chance adds to few of them", () => {
    // Bins of twenty: a share that scatters by sqrt(0.25 / 20) = 0.11 makes a mean distance of 0.09 by chance alone.
    const random = createRandom(2);
    const pairs = claims(
      160,
      (share) => 0.3 + 0.4 * share,
      (k) => random.uniform() < 0.3 + (0.4 * (k + 0.5)) / 160,
    );
    const { ece } = calibrationOf(pairs, createRandom(3))!;
    expect(ece.value).toBeLessThan(0.15);
    expect(ece.low).toBeLessThan(ece.value);
    expect(ece.low).toBeLessThan(0.06);
  });
});
