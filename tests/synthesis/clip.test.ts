import { describe, expect, it } from "vitest";
import { truthSchema } from "../../src/evaluation/truth.js";
import { synthesizeClip } from "../../src/synthesis/clip.js";
import { drawRequests, faultCells } from "../../src/synthesis/draw-request.js";
import { OTHER_SOUND_KINDS } from "../../src/synthesis/other-sounds/kinds.js";
import type { ClipRequest } from "../../src/synthesis/request.js";
import { sameSamples } from "../same-samples.js";

const steadySpin: ClipRequest = {
  seed: 11,
  machine: "front-load-belt-bldc",
  phase: "spin",
  faults: ["drum-bearing"],
  durationSeconds: 1,
};

const cleanPhone = {
  highPassOrder: 1,
  highPassHz: 60,
  bells: [],
  gainControl: null,
  noiseSuppressionDb: 0,
  levelDb: -40,
  clippingDb: null,
  sampleRateHz: 48_000,
};

function meanSquare(samples: ArrayLike<number>, start = 0, end = samples.length): number {
  let sum = 0;
  for (let i = start; i < end; i++) sum += samples[i]! ** 2;
  return sum / (end - start);
}

function healthOf(samples: Float32Array): { finite: boolean; top: number; levelDb: number } {
  let top = 0;
  let finite = true;
  for (const x of samples) {
    finite &&= Number.isFinite(x);
    top = Math.max(top, Math.abs(x));
  }
  return { finite, top, levelDb: 10 * Math.log10(meanSquare(samples)) };
}

// One clip for each part and phase, the kind of washer changing from one to the next.
const cells = [
  ...new Map(
    faultCells()
      .sort((a, b) => (a.machine + a.component).length - (b.machine + b.component).length)
      .map((cell) => [`${cell.component} ${cell.phase}`, cell]),
  ).values(),
];

describe("synthesizeClip", () => {
  it("gives the same samples and truth for the same request, others for another seed", () => {
    const once = synthesizeClip(steadySpin);
    const again = synthesizeClip(steadySpin);
    const other = synthesizeClip({ ...steadySpin, seed: 12 });
    expect(sameSamples(again.samples, once.samples)).toBe(true);
    expect(again.truth).toEqual(once.truth);
    expect(sameSamples(other.samples, once.samples)).toBe(false);
  });

  it.each(cells)("makes $component in $phase audible, finite and within full scale", (cell) => {
    const clip = synthesizeClip({
      seed: 77,
      machine: cell.machine,
      phase: cell.phase,
      faults: [cell.component],
      durationSeconds: 1,
      room: { rt60Seconds: 0 },
    });
    const { finite, top, levelDb } = healthOf(clip.samples);
    expect(finite).toBe(true);
    expect(top).toBeLessThanOrEqual(1);
    expect(levelDb).toBeGreaterThan(-60);
    expect(truthSchema.parse(clip.truth).faults).toEqual([cell.component]);
    expect(clip.truth.character).not.toBe("none");
  });

  it.each(OTHER_SOUND_KINDS)("makes %s as a sound that is no washer", (otherSound) => {
    const clip = synthesizeClip({
      seed: 5,
      machine: "front-load-direct",
      phase: "unknown",
      faults: [],
      durationSeconds: 1,
      otherSound,
      phone: { clippingDb: null },
    });
    expect(healthOf(clip.samples).finite).toBe(true);
    expect(healthOf(clip.samples).levelDb).toBeGreaterThan(-60);
    expect(truthSchema.parse(clip.truth)).toMatchObject({ washer: false, faults: [] });
  });

  it("mixes the fault in at the level asked for, within 0.5 dB", () => {
    const request = {
      seed: 21,
      machine: "front-load-belt-induction",
      phase: "spin",
      drumRpm: 900,
      durationSeconds: 3,
      phone: cleanPhone,
    } as const;
    const normal = synthesizeClip({ ...request, faults: [] }).samples;
    for (const asked of [0, 6, 12]) {
      const faulty = synthesizeClip({
        ...request,
        faults: ["drum-bearing"],
        faultToBackgroundDb: asked,
      });
      // What is left of the faulty clip after the normal one of the same seed is taken out.
      let cross = 0;
      for (let i = 0; i < normal.length; i++) cross += normal[i]! * faulty.samples[i]!;
      const share = cross / (meanSquare(normal) * normal.length);
      const fault = faulty.samples.map((x, i) => x - share * normal[i]!);
      const frame = 4800;
      const frames = Array.from({ length: Math.floor(fault.length / frame) }, (_, k) => ({
        fault: meanSquare(fault, k * frame, (k + 1) * frame),
        background: share ** 2 * meanSquare(normal, k * frame, (k + 1) * frame),
      }));
      const loudest = Math.max(...frames.map((one) => one.fault));
      const sounding = frames.filter((one) => one.fault > 0.01 * loudest);
      const total = (key: "fault" | "background") =>
        sounding.reduce((sum, one) => sum + one[key], 0);
      const measured = 10 * Math.log10(total("fault") / total("background"));
      expect(Math.abs(measured - asked)).toBeLessThan(0.5);
      expect(faulty.truth.faultToBackgroundDb).toBe(asked);
    }
  });

  it("leaves a machine in order without any fault", () => {
    const { truth } = synthesizeClip({ ...steadySpin, faults: [] });
    expect(truth).toMatchObject({ washer: true, faults: [], character: "none" });
    expect(truth.faultToBackgroundDb).toBeUndefined();
  });

  it("refuses a fault that no part can have, with the reason", () => {
    expect(() => synthesizeClip({ ...steadySpin, faults: ["normal"] })).toThrow(
      /part that can be faulty, received "normal"/,
    );
    expect(() => synthesizeClip({ ...steadySpin, durationSeconds: 0 })).toThrow(
      /durationSeconds must lie between 1 and 600/,
    );
  });
});

describe("drawRequests", () => {
  it("keeps to the constraints and to what the kind of washer has", () => {
    const known = new Set(faultCells().map((c) => `${c.component}/${c.machine}/${c.phase}`));
    const requests = drawRequests(3, 200, { normalShare: 0, otherShare: 0, phase: "spin" });
    for (const { faults, machine, phase } of requests) {
      expect(known).toContain(`${faults[0]}/${machine}/${phase}`);
    }
    expect(new Set(requests.map((r) => r.faults[0])).size).toBeGreaterThan(15);
  });

  it("draws the shares of normal and other sounds asked for", () => {
    const requests = drawRequests(9, 2000, { normalShare: 0.5, otherShare: 0.2 });
    const others = requests.filter((r) => r.otherSound).length;
    const normal = requests.filter((r) => !r.otherSound && r.faults.length === 0).length;
    // Four standard errors of a share of 2000 are below 0.045.
    expect(Math.abs(others / 2000 - 0.2)).toBeLessThan(0.045);
    expect(Math.abs(normal / 2000 - 0.5)).toBeLessThan(0.045);
  });

  it("gives the first clips of a long list like those of a short one", () => {
    expect(drawRequests(4, 50).slice(0, 5)).toEqual(drawRequests(4, 5));
  });

  it("says which constraints leave nothing", () => {
    expect(() => drawRequests(1, 1, { fault: "motor-brushes", phase: "fill" })).toThrow(
      /No such fault is heard there: motor-brushes on any washer in fill/,
    );
  });
});
