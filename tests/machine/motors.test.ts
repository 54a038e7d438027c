import { describe, expect, test } from "vitest";
import { brushMotorRates } from "../../src/machine/brush-motor.js";
import {
  inductionSlip,
  inverterSupplyHz,
  polePassHz,
  rotorSlotHz,
  synchronousRpm,
} from "../../src/machine/induction-motor.js";
import { carrierLinesHz } from "../../src/machine/inverter.js";
import { magnetMotorOrders } from "../../src/machine/permanent-magnet.js";
import { synchronousPumpRates } from "../../src/machine/pump.js";

describe("synchronousRpm(supplyHz, poles)", () => {
  // n_s = 120 f / P, IEC 60034-1 practice.
  test.each([
    [50, 2, 3000],
    [50, 4, 1500],
    [50, 6, 1000],
    [50, 8, 750],
    [50, 10, 600],
    [50, 12, 500],
    [50, 16, 375],
    [50, 18, 333.333],
    [50, 24, 250],
    [50, 36, 166.667],
    [50, 48, 125],
    [60, 2, 3600],
    [60, 4, 1800],
    [60, 6, 1200],
    [60, 8, 900],
    [60, 10, 720],
    [60, 12, 600],
    [60, 16, 450],
    [60, 18, 400],
    [60, 24, 300],
    [60, 36, 200],
    [60, 48, 150],
  ])("is, at %i Hz with %i poles, %f rpm", (hz, poles, rpm) => {
    expect(synchronousRpm(hz, poles)).toBeCloseTo(rpm, 3);
  });
});

describe("inductionSlip and polePassHz", () => {
  // Closed form; 1485 rpm is a published worked example (15 per minute slip, 60 per minute pole pass);
  // 1380 rpm is a textbook exercise with 8 % slip.
  test.each([
    [60, 4, 1725, 0.041667, 5],
    [60, 2, 3450, 0.041667, 5],
    [60, 6, 1140, 0.05, 6],
    [50, 4, 1425, 0.05, 5],
    [50, 2, 2850, 0.05, 5],
    [50, 4, 1485, 0.01, 1],
    [60, 4, 1780, 0.011111, 1.33333],
    [50, 4, 1380, 0.08, 8],
  ])("at %i Hz, %i poles and %i rpm are %f and %f Hz", (lineHz, poles, rpm, slip, polePass) => {
    expect(inductionSlip(rpm, lineHz, poles)).toBeCloseTo(slip, 6);
    expect(polePassHz(rpm, lineHz, poles)).toBeCloseTo(polePass, 5);
  });
});

describe("rotorSlotHz(bars, rpm, supply)", () => {
  // Bars x running speed, sidebands at twice the line: 34 bars at 1725 rpm, 60 Hz.
  test("puts 34 bars at 977.5 Hz between 857.5 and 1097.5 Hz", () => {
    expect(rotorSlotHz(34, 1725, 60)).toEqual([857.5, 977.5, 1097.5]);
  });

  test("adds a pair at four times the supply for order 2", () => {
    expect(rotorSlotHz(34, 1725, 60, 2)).toEqual([737.5, 857.5, 977.5, 1097.5, 1217.5]);
  });
});

// f_e = p f_m / (1 - s), by hand: 2 poles, 12,000 rpm, 4 % slip.
test("inverterSupplyHz feeds a 2-pole motor at 12,000 rpm and 4 % slip with 208.33 Hz", () => {
  expect(inverterSupplyHz(12_000, 2, 0.04)).toBeCloseTo(208.333, 3);
});

describe("magnetMotorOrders(slots, poles)", () => {
  // lcm, 6p, 2p and gcd worked out by hand for the pairs in use.
  test.each([
    [36, 48, 144, 144, 48, 12],
    [36, 42, 252, 126, 42, 6],
    [36, 24, 72, 72, 24, 12],
    [27, 24, 216, 72, 24, 3],
    [36, 30, 180, 90, 30, 6],
    [27, 36, 108, 108, 36, 9],
    [24, 32, 96, 96, 32, 8],
    [42, 56, 168, 168, 56, 14],
  ])("of %i/%i are cogging %i, ripple %i, pull %i, mode %i", (s, p, lcm, ripple, pull, gcd) => {
    expect(magnetMotorOrders(s, p)).toEqual({
      electrical: p / 2,
      radialForce: pull,
      torqueRipple: ripple,
      cogging: lcm,
      lowestForceMode: gcd,
    });
  });

  test("of 36/42 at 1200 rpm sound at 420, 840, 2520 and 5040 Hz", () => {
    const orders = magnetMotorOrders(36, 42);
    expect(orders.electrical * 20).toBe(420);
    expect(orders.radialForce * 20).toBe(840);
    expect(orders.torqueRipple * 20).toBe(2520);
    expect(orders.cogging * 20).toBe(5040);
  });
});

test("brushMotorRates gives 5760 Hz for 24 bars and 2880 Hz for 12 slots at 14,400 rpm", () => {
  expect(brushMotorRates(14_400, 24, 12)).toEqual({ bars: 5760, slots: 2880 });
});

test("carrierLinesHz puts companions at the electrical rate round once and twice the carrier", () => {
  expect(carrierLinesHz(16_000, 400, 1)).toEqual([15_600, 16_000, 16_400, 31_600, 32_000, 32_400]);
});

// A synchronous two-pole pump turns at the mains; its vanes land on the mains comb.
test.each([
  [50, 100, 300],
  [60, 120, 360],
])("synchronousPumpRates at %i Hz hums at %i Hz and passes 6 vanes at %i Hz", (line, hum, vane) => {
  expect(synchronousPumpRates(line, 6)).toEqual({ rotation: line, hum, vanePass: vane });
});
