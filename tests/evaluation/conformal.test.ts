import { describe, expect, it } from "vitest";
import { conformalThreshold } from "../../src/evaluation/conformal.js";
import { createRandom } from "../../src/foundation/random.js";

describe("conformalThreshold(scores, cover)", () => {
  it("is the order statistic of the published rule, ⌈(n + 1)(1 - α)⌉ (Lei et al., 2018)", () => {
    const nine = [0.9, 0.1, 0.5, 0.3, 0.7, 0.2, 0.8, 0.4, 0.6];
    expect(conformalThreshold(nine, 0.9)).toBe(0.9);
    expect(conformalThreshold(nine, 0.5)).toBe(0.5);
    expect(conformalThreshold(nine.slice(1), 0.9)).toBe(Infinity);
  });

  it("covers new cases of the same kind at least as often as promised, for skewed scores too", () => {
    const random = createRandom(77);
    let inside = 0;
    const rounds = 4000;
    for (let k = 0; k < rounds; k++) {
      const draw = (): number => random.between(0, 1) ** 4;
      const threshold = conformalThreshold(Array.from({ length: 40 }, draw), 0.9);
      if (draw() <= threshold) inside++;
    }
    // Exactly ⌈41 × 0.9⌉ / 41 = 37 / 41 for continuous scores; three standard errors to either side.
    const exact = 37 / 41;
    const error = 3 * Math.sqrt((exact * (1 - exact)) / rounds);
    expect(Math.abs(inside / rounds - exact)).toBeLessThan(error);
  });
});
