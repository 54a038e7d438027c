import { describe, expect, it } from "vitest";
import { createRandom } from "../../src/foundation/random.js";
import { CAGE, FRONT_BELT, scanHz, scanTurns } from "../../src/speed/family-scan.js";
import { followTurns } from "../../src/speed/follow-turns.js";
import { placeOfTop } from "../../src/speed/judge-course.js";
import type { LineSpectrum } from "../../src/speed/line-spectrum.js";
import { runsDown } from "../../src/speed/movement.js";

const RATE_HZ = 200;
const SECONDS = 15;
const FRAMES = 30;

// 6 Hz, from 2 s on up by 0.5 Hz a second, 10 Hz from 10 s on; the turn is the closed integral.
const hzAt = (t: number): number => (t < 2 ? 6 : t > 10 ? 10 : 6 + 0.5 * (t - 2));
const turnsAt = (t: number): number =>
  6 * Math.min(t, 2) +
  (t > 2 ? 6 * (Math.min(t, 10) - 2) + 0.25 * (Math.min(t, 10) - 2) ** 2 : 0) +
  (t > 10 ? 10 * (t - 10) : 0);

describe("followTurns(input, start, drumHz)", () => {
  it("brings a course that cuts the corners and ends of a run-up back within 1.5 % everywhere", () => {
    const random = createRandom(3);
    const rows = Array.from({ length: 4 }, () =>
      Float64Array.from(
        { length: SECONDS * RATE_HZ },
        (_, i) => Math.cos(2 * Math.PI * turnsAt(i / RATE_HZ)) + random.normal(),
      ),
    );
    const input = {
      envelopes: { rows, rateHz: RATE_HZ, contrast: 1 },
      usable: new Uint8Array(FRAMES).fill(1),
    };
    // As short spectra see it: the mean over 5 s, which is up to 5 % off at the corners.
    const start = Float64Array.from({ length: FRAMES }, (_, i) => {
      const around = Array.from({ length: 11 }, (_, j) =>
        Math.log(hzAt(Math.max(0, Math.min(SECONDS, (i + j - 4.5) / 2)))),
      );
      return around.reduce((sum, v) => sum + v, 0) / around.length;
    });
    const before = Array.from(start, (ln, i) => Math.abs(ln - Math.log(hzAt((i + 0.5) / 2))));
    expect(Math.max(...before)).toBeGreaterThan(0.03);
    const mean = start.reduce((sum, v) => sum + v, 0) / FRAMES;
    const found = followTurns(
      input,
      start.map((v) => v - mean),
      Math.exp(mean),
    );
    const errors = Array.from(found.course, (ln, i) =>
      Math.abs(Math.log(found.drumHz / hzAt((i + 0.5) / 2)) + ln),
    );
    expect(Math.max(...errors)).toBeLessThan(0.015);
  });
});

describe("scanTurns with a belt that slaps", () => {
  // Lines of 9 deviations at 1 to 6 per belt turn, 0.69 of the drum's 10 Hz, and at 1 and 2 per drum turn.
  const binHz = 0.05;
  const z = new Float64Array(1900);
  for (const hz of [6.9, 13.8, 20.7, 27.6, 34.5, 41.4, 10, 20]) {
    for (let k = -3; k <= 3; k++) z[Math.round(hz / binHz) + k] = 9 - k * k;
  }
  const turn: LineSpectrum = { z, spread: 0.2, binHz };
  const bestOf = (others: Parameters<typeof scanTurns>[3]["others"]): number => {
    const scan = scanTurns(turn, 1.6, 27, { others });
    return scanHz(scan, placeOfTop(scan.odds));
  };

  it("takes the drum's two lines for the drum's, where the machine has a belt of that rate", () => {
    expect(bestOf([CAGE, ...FRONT_BELT])).toBeGreaterThan(9.9);
    expect(bestOf([CAGE, ...FRONT_BELT])).toBeLessThan(10.1);
  });

  it("takes the longer comb for the drum's where nothing else can beat so", () => {
    expect(bestOf([])).toBeGreaterThan(6.8);
    expect(bestOf([])).toBeLessThan(7);
  });
});

describe("runsDown(track)", () => {
  it("holds for a drum that loses speed, not for a rate that stays", () => {
    const falling = Array.from({ length: 20 }, (_, i) => 10 * Math.exp(-0.02 * i));
    expect(runsDown([null, null, ...falling, null])).toBe(true);
    expect(runsDown([null, ...falling.map(() => 4), null])).toBe(false);
    expect(runsDown([null, null])).toBe(false);
  });
});
