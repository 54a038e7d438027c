import { describe, expect, it } from "vitest";
import { truthSchema } from "../../src/evaluation/truth.js";
import { COMPONENTS, MACHINE_PROFILES, PHASES, type Component } from "../../src/machine/words.js";
import { sameSamples } from "../same-samples.js";
import { drawClip, drawWish, FAULTY_COMPONENTS, makeClip } from "./clip.js";
import { Dice } from "./dice.js";
import { hertzConstant, looseMassForce } from "./loose-mass.js";
import { OTHER_SOUNDS } from "./other-sounds.js";
import { rollingForce } from "./rolling.js";
import { roughSurface } from "./surface.js";
import { shakeTub, turningForce, type Tub } from "./tub.js";

const RATE = 16000;

function turning(hz: number, seconds: number): { turns: Float64Array; hz: Float32Array } {
  const n = Math.round(seconds * RATE);
  return {
    turns: new Float64Array(n).map((_, i) => (hz * i) / RATE),
    hz: new Float32Array(n).fill(hz),
  };
}

function rms(x: Float32Array): number {
  return Math.sqrt(x.reduce((sum, v) => sum + v * v, 0) / x.length);
}

/** Upward crossings of half the peak, not counted twice within a dead time. */
function countPulses(x: Float32Array, deadSamples: number): number {
  const level = 0.5 * x.reduce((top, v) => Math.max(top, Math.abs(v)), 0);
  let count = 0;
  let last = -deadSamples;
  for (let i = 1; i < x.length; i++) {
    if (Math.abs(x[i]!) < level || i - last < deadSamples) continue;
    count++;
    last = i;
  }
  return count;
}

describe("closed forms", () => {
  const smooth = {
    finestWaves: 100,
    waviness: 0,
    pits: 0,
    pitDepth: 0,
    pitLength: 0.004,
    patchiness: 0,
  };
  const flat = new Float32Array(16384);
  const pit = flat.slice();
  for (let k = 0; k < 60; k++) pit[500 + k] = -1;

  /** Published rates per turn of a 6205 bearing: outer 3.5848, inner 5.4152 (Case Western Reserve University Bearing Data Center). */
  const b6205 = { balls: 9, ballMm: 7.94, pitchMm: 39.04, contactDeg: 0 };

  it.each([
    ["outer", flat, pit, 3.5848],
    ["inner", pit, flat, 5.4152],
  ])(
    "passes a pit on the %s race as often as the bearing's data say",
    (_name, inner, outer, perTurn) => {
      const { turns, hz } = turning(20, 5);
      const force = rollingForce(
        {
          sampleRateHz: RATE,
          shaftTurns: turns,
          shaftHz: hz,
          size: b6205,
          inner,
          outer,
          ballError: 0,
          standingLoad: 0,
          turningLoad: 0,
          preload: 1,
          cageSlip: 0,
        },
        new Dice("bearing"),
      );
      expect(countPulses(force, 60) / 100 / perTurn).toBeCloseTo(1, 2);
    },
  );

  it("swings a pushed tub at the root of stiffness over mass", () => {
    // 10 kN/m under 50 kg: f = (1/2π)·√(k/m) = 2.2508 Hz (mechanics textbook).
    const bounceHz = Math.sqrt(10000 / 50) / (2 * Math.PI);
    const tub: Tub = {
      bounceHz,
      swayHz: bounceHz,
      damping: 0.02,
      dryMps2: 0,
      unbalanceM: 0.001,
      gapM: 10,
      contactSeconds: 0.01,
      restitution: 0.4,
    };
    const heights = [1.6, 2.0, 2.25, 2.5, 2.9].map((f) => {
      const { turns, hz } = turning(f, 30);
      return rms(shakeTub(tub, turns, hz, RATE).handed.slice(-5 * RATE)) / (f * f);
    });
    expect(heights.indexOf(Math.max(...heights))).toBe(2);
    // On resonance the deflection is u/(2ζ): spring force over mass (2πf)²·u/(2ζ), handed down with half the sway.
    const w2 = Math.pow(2 * Math.PI * 2.25, 2);
    const expected = ((w2 * 0.001) / 0.04) * Math.sqrt(1 + 0.25) * Math.SQRT1_2;
    expect(heights[2]! * 2.25 * 2.25).toBeGreaterThan(0.9 * expected);
    expect(heights[2]! * 2.25 * 2.25).toBeLessThan(1.1 * expected);
  });

  it("shakes with m r ω² far above the suspension", () => {
    // 0.5 kg at 0.24 m and 1200 rpm: 0.5 · 0.24 · (125.66)² = 1895 N.
    expect(turningForce(0.5, 0.24, 20)).toBeCloseTo(1895, -1);
    const tub: Tub = {
      bounceHz: 2,
      swayHz: 2,
      damping: 0.1,
      dryMps2: 0,
      unbalanceM: (0.5 * 0.24) / 50,
      gapM: 10,
      contactSeconds: 0.01,
      restitution: 0.4,
    };
    const { turns, hz } = turning(20, 4);
    const { vertical } = shakeTub(tub, turns, hz, RATE);
    const peak = rms(vertical.slice(-RATE)) * Math.SQRT2;
    expect((peak * 50) / turningForce(0.5, 0.24, 20)).toBeCloseTo(1, 1);
  });

  it("keeps a mass in contact for 2.94 δ/v at the speed its stops are laid out for", () => {
    // Hertz impact of a sphere: contact time 2.94 δ/v (Johnson, Contact Mechanics, §11.4, from memory).
    const k = hertzConstant(0.5, 0.001);
    const rate = 1e6;
    let x = 0;
    let v = 0.5;
    let steps = 0;
    do {
      v -= (k * x * Math.sqrt(x)) / rate;
      x += v / rate;
      steps++;
    } while (x > 0);
    expect(steps / rate).toBeCloseTo(0.001, 4);
  });

  it("lets a loose part strike once each way when the push changes sign", () => {
    const push = new Float32Array(RATE).map((_, i) =>
      Math.floor(i / (RATE / 10)) % 2 === 0 ? 20 : -20,
    );
    const force = looseMassForce({
      sampleRateHz: RATE,
      push,
      gapM: 0.002,
      contactSeconds: 0.001,
      restitution: 0,
    });
    expect(countPulses(force, RATE / 40)).toBe(10);
  });

  it("repeats a race's surface with each turn only where it turns", () => {
    const { turns, hz } = turning(10, 2);
    const rough = roughSurface(new Dice("race"), { ...smooth, finestWaves: 300, patchiness: 0.3 });
    const force = rollingForce(
      {
        sampleRateHz: RATE,
        shaftTurns: turns,
        shaftHz: hz,
        size: { ...b6205, balls: 8, ballMm: 0, contactDeg: 0 },
        inner: rough,
        outer: flat,
        ballError: 0,
        standingLoad: 0,
        turningLoad: 0,
        preload: 1,
        cageSlip: 0,
      },
      new Dice("cage"),
    );
    // With vanishing balls the cage turns at half speed: eight balls meet the race again each quarter turn.
    const lag = RATE / 10 / 4;
    let same = 0;
    for (let i = 0; i + lag < force.length; i++) same += force[i]! * force[i + lag]!;
    expect(same / force.reduce((sum, v) => sum + v * v, 0)).toBeGreaterThan(0.9);
  });
});

describe("clips", () => {
  it("gives the same samples for the same seed and others for another", () => {
    const wish = { fault: "drum-bearing", seconds: 1 } as const;
    const a = makeClip({ ...wish, seed: 7 });
    const again = makeClip({ ...wish, seed: 7 });
    expect(sameSamples(again.samples, a.samples)).toBe(true);
    expect(again.truth).toEqual(a.truth);
    expect(sameSamples(makeClip({ ...wish, seed: 8 }).samples, a.samples)).toBe(false);
  });

  it("can break every part but the two words that are none", () => {
    const missing = COMPONENTS.filter((c) => !FAULTY_COMPONENTS.includes(c));
    expect(missing).toEqual(["normal", "other"]);
  });

  it.each(FAULTY_COMPONENTS)("makes %s heard, with a valid truth", (fault: Component) => {
    const { samples, truth, sampleRateHz } = makeClip({ seed: 31, fault, seconds: 1 });
    expect(truthSchema.parse(truth)).toEqual(truth);
    expect(truth.faults).toEqual([fault]);
    expect(samples.length).toBe(sampleRateHz);
    expect(samples.every((v) => Number.isFinite(v) && Math.abs(v) <= 1)).toBe(true);
    expect(rms(samples)).toBeGreaterThan(0.002);
  });

  it.each(MACHINE_PROFILES)("runs a sound %s through every phase", (machine) => {
    for (const phase of PHASES.filter((p) => p !== "unknown")) {
      const { samples, truth } = makeClip({ seed: 8, machine, phase, fault: null, seconds: 0.5 });
      expect(truthSchema.parse(truth)).toMatchObject({
        machine,
        phase,
        faults: [],
        character: "none",
      });
      expect(rms(samples)).toBeGreaterThan(0.001);
    }
  });

  it.each(OTHER_SOUNDS)("labels %s as no washer", (notWasher) => {
    const { samples, truth } = makeClip({ seed: 3, notWasher, seconds: 1 });
    expect(truth.washer).toBe(false);
    expect(truthSchema.parse(truth).faults).toEqual([]);
    expect(rms(samples)).toBeGreaterThan(0.001);
  });

  it("refuses a part the machine does not have", () => {
    expect(() => makeClip({ seed: 1, fault: "motor-brushes", machine: "top-load-direct" })).toThrow(
      /not heard/,
    );
  });

  it("stands the drum of a top loader still while its agitator works", () => {
    const { truth } = makeClip({
      seed: 2,
      machine: "top-load-belt",
      phase: "wash",
      fault: null,
      seconds: 2,
    });
    expect(truth.drumRpm?.typical).toBeNull();
  });

  it("draws the shares that are asked for", () => {
    const wishes = Array.from({ length: 600 }, (_, seed) =>
      drawWish(seed, { normalShare: 0.5, notWasherShare: 0.2 }),
    );
    expect(wishes.filter((w) => w.notWasher !== undefined).length / 600).toBeCloseTo(0.2, 1);
    expect(wishes.filter((w) => w.fault === null).length / 600).toBeCloseTo(0.5, 1);
    expect(drawClip(1, { normalShare: 0, notWasherShare: 1 }).truth.washer).toBe(false);
  });
});
