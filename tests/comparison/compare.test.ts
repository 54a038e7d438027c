// Before and after a repair. The verdicts follow trade practice (common practice, no source): same phase and
// speed, ratios instead of levels, and no "cured" without a fault that was heard before.
import { beforeAll, describe, expect, it } from "vitest";
import { compareRecordings, type ComparisonAnswer } from "../../src/answer/compare-recordings.js";
import type { ClipToDiagnose } from "../../src/answer/diagnose-recordings.js";
import { washerById } from "../../src/machine/washers.js";
import type { Component, Phase } from "../../src/machine/words.js";
import { assessRecording } from "../../src/recording/assess.js";
import { comparisonText } from "../../src/report/compare-text.js";
import { synthesizeClip } from "../../src/synthesis/clip.js";

const MACHINE = "front-load-direct";

function clip(faults: readonly Component[], gain = 1, phase: Phase = "spin"): ClipToDiagnose {
  const { samples, sampleRateHz } = synthesizeClip({
    seed: 2327,
    machine: MACHINE,
    phase,
    faults,
    durationSeconds: 9,
    ...(faults.length > 0 ? { faultToBackgroundDb: 10 } : {}),
    drumRpm: 900,
    phone: { noiseSuppressionDb: 0, gainControl: null, clippingDb: null },
  });
  const recording = assessRecording({
    channels: [samples.map((value) => gain * value)],
    sampleRateHz,
    channelCount: 1,
    codec: "WAV, PCM",
    fileSeconds: samples.length / sampleRateHz,
    problems: [],
  });
  return { file: "clip.wav", sha256: "", recording, phase };
}

const compared = (before: ClipToDiagnose, after: ClipToDiagnose): ComparisonAnswer =>
  compareRecordings(before, after, { washer: washerById(MACHINE), machineGiven: true });

let faulty: ClipToDiagnose;
let repaired: ClipToDiagnose;

beforeAll(() => {
  faulty = clip(["rotor-stator"]);
  repaired = clip([], 0.3);
});

describe("compareRecordings(before, after)", () => {
  it("finds equal recordings unchanged, at any gain", () => {
    const answer = compared(faulty, clip(["rotor-stator"], 0.2));
    expect(answer.verdict).toBe("unchanged");
    expect(Math.abs(answer.evidence!.fall.value)).toBeLessThan(0.3);
  });

  it("finds the fault gone after the repair, with an interval that excludes no change", () => {
    const answer = compared(faulty, repaired);
    expect(["cured", "better"]).toContain(answer.verdict);
    expect(answer.evidence!.fall.low).toBeGreaterThan(0);
    expect(comparisonText(answer)).toContain("nats");
  });

  it("cannot tell when nothing was wrong before, or the phases differ", () => {
    expect(compared(repaired, faulty).verdict).toBe("cannot tell");
    const drain = { ...repaired, phase: "drain" as const };
    const answer = compared(faulty, drain);
    expect(answer.verdict).toBe("cannot tell");
    expect(answer.text).toContain("same phase");
  });
});
