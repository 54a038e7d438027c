import { describe, expect, it } from "vitest";
import type { Reading } from "../../src/speed/reading.js";
import { typicalOf, type Typical } from "../../src/speed/typical-speed.js";

/** What stands for a clip whose speed is followed, Hz each half second; null where it is not heard. */
function typicalAlong(trackHz: readonly (number | null)[]): Typical {
  const course = Float64Array.from(trackHz, (hz) => Math.log(hz ?? 1));
  return typicalOf(trackHz, { drumHz: 1, judged: { course } } as unknown as Reading, 25);
}

const held = (hz: number, frames: number): number[] => new Array<number>(frames).fill(hz);
const ramp = (from: number, to: number, frames: number): number[] =>
  Array.from({ length: frames }, (_, i) => from + ((to - from) * (i + 0.5)) / frames);

describe("typicalOf(track)", () => {
  it("is the speed that is held, whatever comes before it", () => {
    const typical = typicalAlong([...ramp(8, 15, 10), ...held(15, 20)]);
    expect(typical.held).toBe(true);
    expect(typical.hz).toBeCloseTo(15, 5);
  });

  it("leaves both of two speeds possible that are held for equally long", () => {
    const typical = typicalAlong([...held(10, 8), ...ramp(10, 12, 4), ...held(12, 8)]);
    expect(typical.lowHz).toBeLessThanOrEqual(10);
    expect(typical.highHz).toBeGreaterThanOrEqual(12);
  });

  // A ramp of 5 to 10 Hz has its mean and its median at 7.5 Hz; what it ends in may be held next.
  it("of an even ramp is its middle, and may be its top", () => {
    const typical = typicalAlong(ramp(5, 10, 30));
    expect(typical.held).toBe(false);
    expect(typical.hz).toBeCloseTo(7.5, 5);
    expect(typical.highHz).toBeGreaterThan(9.9);
  });

  it("of a creeping speed may be that of any part that stays within 1 %", () => {
    const typical = typicalAlong(ramp(10, 10.6, 30));
    expect(typical.lowHz).toBeLessThan(10.15);
    expect(typical.highHz).toBeGreaterThan(10.5);
  });

  const unheard = (frames: number): null[] => new Array<null>(frames).fill(null);

  // From a stand to 10 Hz, heard from 5 Hz on: by geometry the mean is 5 Hz, not the 7.5 Hz of what is heard.
  it("of a run-up that is heard late is the mean of the whole run-up", () => {
    const typical = typicalAlong([...unheard(15), ...ramp(5, 10, 15)]);
    expect(typical.hz).toBeGreaterThan(4.75);
    expect(typical.hz).toBeLessThan(5.25);
  });

  it("of a run-down is the mean until the drum stands", () => {
    const typical = typicalAlong([...ramp(10, 5, 10), ...unheard(20)]);
    expect(typical.hz).toBeGreaterThan(4.75);
    expect(typical.hz).toBeLessThan(5.25);
  });

  it("may be a speed that a run-up reaches where it is no longer heard", () => {
    const typical = typicalAlong([...ramp(5, 10, 15), ...unheard(15)]);
    expect(typical.highHz).toBeGreaterThan(14);
    expect(typical.highHz).toBeLessThanOrEqual(25);
  });

  it("of a held speed stays that speed though the drum is not heard before", () => {
    const typical = typicalAlong([...unheard(12), ...ramp(12, 15, 6), ...held(15, 12)]);
    expect(typical.hz).toBeCloseTo(15, 5);
    expect(typical.lowHz).toBeGreaterThan(14.8);
  });
});
