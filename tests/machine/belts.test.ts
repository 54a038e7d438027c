import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  beltHz,
  beltSlip,
  beltSpeedMPerS,
  beltTurnsPerPulleyTurn,
  drivenRpm,
  pulleyRatio,
} from "../../src/machine/belt-drive.js";
import { gripTensionRatio } from "../../src/machine/belt-grip.js";
import { beltLayout, layoutOfBelt, shortestBelt } from "../../src/machine/belt-layout.js";
import { BELT_SECTIONS } from "../../src/machine/belt-sections.data.js";
import { beltSpanHz } from "../../src/machine/belt-span.js";

describe("beltHz(pulleyRpm, diameter, length)", () => {
  // Example rows of a public belt-frequency calculator: rpm, pulley m, belt m, slip, Hz.
  test.each([
    [1480, 0.18, 2.4, 0.012, 5.742],
    [960, 0.22, 3.1, 0.005, 3.549],
    [1775, 0.14, 1.95, 0.022, 6.526],
  ])("gives the printed rate for %f rpm", (rpm, diameter, length, slip, hz) => {
    expect(Math.abs(beltHz(rpm, diameter, length) * (1 - slip) - hz)).toBeLessThan(0.001);
  });

  // Closed form for a ribbed belt of 1195 mm on 18 and 290 mm at 1200 rpm of the drum.
  test("gives ratio 16.1111, 19333.33 rpm, 18.2212 m/s and 15.2479 Hz", () => {
    const ratio = pulleyRatio(18, 290);
    expect(ratio).toBeCloseTo(16.1111, 4);
    expect(1200 * ratio).toBeCloseTo(19333.33, 2);
    expect(beltSpeedMPerS(1200, 290)).toBeCloseTo(18.2212, 4);
    expect(beltHz(1200, 290, 1195)).toBeCloseTo(15.2479, 4);
    expect(beltHz(1200 * ratio, 18, 1195)).toBeCloseTo(15.2479, 4);
  });

  test("stays below both pulley rates whenever the belt goes round the larger pulley", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 10, max: 60, noNaN: true }),
        fc.double({ min: 100, max: 400, noNaN: true }),
        fc.double({ min: 1.05, max: 3, noNaN: true }),
        (small, large, slack) => {
          const length = slack * Math.PI * large;
          const drum = 1200 / 60;
          const motor = drum * pulleyRatio(small, large);
          expect(beltHz(1200, large, length)).toBeLessThan(Math.min(drum, motor));
        },
      ),
    );
  });

  // pi D / L, by hand to two digits.
  test.each([
    [250, 1180, 0.67],
    [270, 1230, 0.69],
    [270, 1195, 0.71],
    [300, 1300, 0.72],
    [300, 1270, 0.74],
    [150, 950, 0.5],
    [170, 1000, 0.53],
    [140, 900, 0.49],
    [160, 1050, 0.48],
  ])("turns %i mm round with %i mm of belt %f times per pulley turn", (diameter, length, turns) => {
    expect(Math.abs(beltTurnsPerPulleyTurn(diameter, length) - turns)).toBeLessThanOrEqual(0.0051);
  });
});

describe("beltSlip(pulleysRatio, heardRatio)", () => {
  test("reads 2.91 % when a 12:1 drive is heard as 12.36:1", () => {
    expect(beltSlip(12, 12.36)).toBeCloseTo(0.0291, 4);
  });

  test("is the slip that drivenRpm was given", () => {
    const drum = drivenRpm(14_400, 22.5, 270, 0.03);
    expect(drum).toBeCloseTo(1164, 9);
    expect(beltSlip(12, 14_400 / drum)).toBeCloseTo(0.03, 12);
  });
});

describe("beltSpanHz(span, tension, mass)", () => {
  // String formula by hand: 1 / (2 x 0.5 m) x sqrt(100 N / 0.01 kg/m) = 100 Hz.
  test("gives 100 Hz for 500 mm, 100 N and 0.01 kg/m", () => {
    expect(beltSpanHz(500, 100, 0.01)).toBeCloseTo(100, 9);
  });

  // Five ribs of 0.009 kg/m on 0.30-0.34 m at 80-160 N: about 65-115 Hz, recalled.
  test("puts a front loader's belt at 62 to 100 Hz", () => {
    expect(beltSpanHz(340, 80, 0.045)).toBeCloseTo(62, 0);
    expect(beltSpanHz(300, 160, 0.045)).toBeCloseTo(99.4, 0);
  });
});

describe("gripTensionRatio(friction, wrap, groove)", () => {
  // Euler's rope: one full turn at 0.3 holds e^(0.6 pi) = 6.586.
  test("holds 6.586 times the pull with one turn at friction 0.3", () => {
    expect(gripTensionRatio(0.3, 360)).toBeCloseTo(6.586, 3);
  });

  // Textbook: a 40 degree groove raises friction by 1 / sin 20 deg = 2.924.
  test("grips in a 40 degree groove as a flat belt with 2.924 times the friction", () => {
    expect(gripTensionRatio(0.1, 140, 40)).toBeCloseTo(gripTensionRatio(0.29238, 140), 4);
  });
});

describe("beltLayout(small, large, centres)", () => {
  // 270 and 20 mm at 360 mm centres want a belt of 1219 mm; wrap 134-140 degrees; span 0.30-0.34 m.
  test("lays 1219 mm round 270 and 20 mm at 360 mm centres", () => {
    const layout = beltLayout(20, 270, 360);
    expect(layout.length).toBeCloseTo(1219, 0);
    expect(layout.smallWrapDeg).toBeGreaterThan(134);
    expect(layout.smallWrapDeg).toBeLessThan(140);
    expect(layout.span / 1000).toBeCloseTo(0.3376, 3);
  });

  test("equals a straight belt round equal pulleys: 2 C + pi d, half a turn of wrap", () => {
    const layout = beltLayout(100, 100, 300);
    expect(layout.length).toBeCloseTo(600 + 100 * Math.PI, 9);
    expect(layout.smallWrapDeg).toBeCloseTo(180, 9);
  });

  test("is found again from the belt's length", () => {
    expect(layoutOfBelt(20, 270, beltLayout(20, 270, 345).length).span).toBeCloseTo(
      beltLayout(20, 270, 345).span,
      6,
    );
    expect(layoutOfBelt(20, 270, shortestBelt(20, 270) - 1).span).toBeNaN();
  });
});

// ISO 9982 (also DIN 7867).
test("ribbed-belt sections have the rib pitch of ISO 9982", () => {
  const pitches = Object.fromEntries(BELT_SECTIONS.map((row) => [row.section, row.pitchMm]));
  expect(pitches).toEqual({ H: 1.6, J: 2.34, K: 3.56, L: 4.7, M: 9.4 });
});
