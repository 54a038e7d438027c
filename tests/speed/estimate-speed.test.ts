import { describe, expect, it } from "vitest";
import { washerById } from "../../src/machine/washers.js";
import { estimateSpeed, type SpeedOptions } from "../../src/speed/estimate-speed.js";
import { otherSound } from "./other-sounds.js";
import { RATE_HZ, spinSound, type SpinSound } from "./spin-sound.js";

const BELT: SpinSound = {
  seed: 11,
  seconds: 12,
  drumHzAt: () => 15,
  ratio: 10.7,
  toneDb: -3,
  depths: [0.25, 0.1, 0.05],
  lineHz: 50,
  humDb: 0,
};

function speedOf(sound: SpinSound, machine: string, more: Partial<SpeedOptions> = {}) {
  return estimateSpeed(spinSound(sound), RATE_HZ, {
    washer: washerById(machine),
    phase: "spin",
    bandHz: [80, 7500],
    ...more,
  });
}

describe("the speed of a spin", () => {
  it("is read from a plateau with its ratio, under mains hum", () => {
    const got = speedOf(BELT, "front-load-belt-universal");
    expect(got.drumRpm!.value / 900).toBeCloseTo(1, 2);
    expect(got.motorToDrum!.value).toBeCloseTo(10.7, 0);
    expect(got.motorRpm!.value / (900 * 10.7)).toBeCloseTo(1, 2);
    expect(got.lineHz).toBe(50);
    expect(got.movement).toBe("steady");
  });

  it("is not made up for white noise", () => {
    const got = estimateSpeed(otherSound("white", 12, 1), RATE_HZ, {
      washer: washerById("front-load"),
      phase: "unknown",
      bandHz: [60, 7500],
    });
    expect(got.drumRpm).toBeNull();
    expect(got.notes).toContain("no-speed-heard");
  });
});
