import { describe, expect, it } from "vitest";
import { passingSwell } from "../../src/evidence/rhythm/passing-swell.js";
import { createRandom } from "../../src/foundation/random.js";

const BLOCK_SECONDS = 0.5;
/** Thirty half-second levels of 1 dB spread with something added. */
function levels(added: (block: number) => number): number[] {
  const random = createRandom(5);
  return Array.from({ length: 30 }, (_, i) => -40 + random.normal() + added(i));
}
const swellOf = (added: (block: number) => number): { db: number; startSeconds: number } =>
  passingSwell(levels(added), BLOCK_SECONDS)!;

describe("passingSwell(levels)", () => {
  it("finds a swell of known height, start and length", () => {
    const swell = passingSwell(
      levels((i) => (i >= 10 && i < 18 ? 9 : 0)),
      BLOCK_SECONDS,
    )!;
    expect(swell.db).toBeGreaterThan(7.5);
    expect(swell.db).toBeLessThan(10.5);
    expect(Math.abs(swell.startSeconds - 5)).toBeLessThanOrEqual(1);
    expect(Math.abs(swell.seconds - 4)).toBeLessThanOrEqual(1.5);
  });

  it("takes a level that only rises, only falls, or steps once for none", () => {
    const least = 2.5;
    expect(swellOf((i) => 0.8 * i).db).toBeLessThan(least);
    expect(swellOf((i) => -0.8 * i).db).toBeLessThan(least);
    expect(swellOf((i) => (i < 15 ? 0 : 12)).db).toBeLessThan(least);
    expect(swellOf(() => 0).db).toBeLessThan(least);
  });

  it("takes a single knock, and a single pause, for none", () => {
    expect(swellOf((i) => (i === 14 ? 20 : 0)).db).toBeLessThan(2.5);
    expect(swellOf((i) => (i === 14 ? -20 : 0)).db).toBeLessThan(2.5);
  });

  it("is missing where a clip is too short for a before, a during and an after", () => {
    expect(passingSwell(levels(() => 0).slice(0, 11), BLOCK_SECONDS)).toBeNull();
  });
});
