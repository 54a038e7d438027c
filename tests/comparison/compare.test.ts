// Before and after a repair. What must hold is common practice of the trade (no source): matched phase and
// speed, ratios instead of levels, no "cured" while the fault is heard, none when voice processing hides it.
import { beforeAll, describe, expect, it } from "vitest";
import { compareRecordings, type ComparisonAnswer } from "../../src/answer/compare-recordings.js";
import type { ClipToDiagnose } from "../../src/answer/diagnose-recordings.js";
import { binSpreadOf } from "../../src/comparison/bin-spread.js";
import { judgeChange, type ChangeOdds } from "../../src/comparison/judge-change.js";
import { COMPARISON_LIMITS } from "../../src/comparison/limits.data.js";
import { drawPairs, spreadOf } from "../../src/comparison/resample-blocks.js";
import { createRandom } from "../../src/foundation/random.js";
import { washerById } from "../../src/machine/washers.js";
import type { Component, Phase } from "../../src/machine/words.js";
import { assessRecording } from "../../src/recording/assess.js";
import { comparisonText } from "../../src/report/compare-text.js";
import { suppressNoise } from "../../src/synthesis/channel/noise-suppression.js";
import { synthesizeClip } from "../../src/synthesis/clip.js";

const MACHINE = "front-load-direct";

function clip(faults: readonly Component[], gain = 1, phase: Phase = "spin"): ClipToDiagnose {
  const { samples, sampleRateHz } = synthesizeClip({
    seed: 2327,
    machine: MACHINE,
    phase,
    faults,
    durationSeconds: 10,
    ...(faults.length > 0 ? { faultToBackgroundDb: 10 } : {}),
    drumRpm: 900,
    phone: { noiseSuppressionDb: 0, gainControl: null, clippingDb: null, sampleRateHz: 44_100 },
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

const compared = (before: ClipToDiagnose, after: ClipToDiagnose, part?: Component) =>
  compareRecordings(before, after, {
    washer: washerById(MACHINE),
    machineGiven: true,
    drumRpm: 900,
    ...(part === undefined ? {} : { part }),
  });

let faulty: ClipToDiagnose;
let repaired: ClipToDiagnose;
let cure: ComparisonAnswer;

beforeAll(() => {
  faulty = clip(["rotor-stator"]);
  repaired = clip([], 0.3);
  cure = compared(faulty, repaired, "rotor-stator");
});

describe("compareRecordings(before, after)", () => {
  it("finds equal recordings unchanged, at any gain", () => {
    const answer = compared(faulty, clip(["rotor-stator"], 0.2));
    expect(answer.verdict).toBe("unchanged");
    for (const { change } of answer.features) expect(Math.abs(change.value)).toBeLessThan(0.1);
  });

  it("speaks for the noise being gone after the repair, and never for a fault that stays", () => {
    expect(["cured", "better", "cannot tell"]).toContain(cure.verdict);
    expect(cure.gone!.value).toBeGreaterThan(0);
    expect(cure.gone!.low).toBeLessThan(cure.gone!.value);
    expect(cure.componentFrom).toBe("told");
    expect(compared(repaired, faulty).verdict).not.toBe("cured");
  });

  it("gives every figure shown with an interval round its change, in words", () => {
    expect(cure.features.length).toBeGreaterThanOrEqual(3);
    for (const { meaning, before, after, change } of cure.features) {
      expect(meaning).toMatch(/Hz/);
      expect(change.value).toBeCloseTo(after - before, 9);
      expect(change.low).toBeLessThanOrEqual(change.value);
      expect(change.high).toBeGreaterThanOrEqual(change.value);
    }
    const lines = comparisonText(cure, 80).split("\n");
    expect(lines[0]!.toLowerCase()).toBe(`${cure.verdict}.`);
    for (const line of lines) expect(line.length).toBeLessThanOrEqual(80);
  });

  it("cannot tell over other phases, other speeds or a phone that takes noise away, and says why", () => {
    const drain = compared(faulty, { ...repaired, phase: "drain" });
    expect(drain).toMatchObject({ verdict: "cannot tell", gone: null });
    expect(drain.text).toContain("same phase");
    const quality = { ...repaired.recording.quality, noiseSuppressed: true };
    const hidden = compared(faulty, { ...repaired, recording: { ...repaired.recording, quality } });
    expect(hidden).toMatchObject({ verdict: "cannot tell" });
    expect(hidden.text).toContain("noise suppression");
    const narrow = { ...repaired.recording, bandHz: [300, 1500] as const };
    expect(compared(faulty, { ...repaired, recording: narrow }).text).toContain(
      "different pitches",
    );
  });
});

describe("judgeChange(odds)", () => {
  const at = (value: number, half = 0.2) => ({ value, low: value - half, high: value + half });
  const usual = { come: at(-3), reach: 5, unusual: 4, unusualBefore: 9, apart: 1 };
  const judge = (gone: number, other: Partial<ChangeOdds> = {}) =>
    judgeChange({ ...usual, gone: at(gone), ...other });

  it("calls it cured only when the interval does not reach down to unchanged", () => {
    expect(judge(3).verdict).toBe("cured");
    expect(judge(3, { gone: at(3, 4) }).verdict).not.toBe("cured");
    expect(judge(0).verdict).toBe("cannot tell");
    expect(judge(-3).verdict).toBe("unchanged");
  });

  it("asks more where the noise stood out little, and says so where it cannot tell", () => {
    expect(judge(1.8).verdict).toBe("cured");
    expect(judge(1.8, { reach: 2 })).toMatchObject({ verdict: "cannot tell", faint: true });
  });

  it("never passes a sound that no machine in order makes, nor a new noise", () => {
    expect(judge(3, { unusual: 20, unusualBefore: 30 }).verdict).toBe("cannot tell");
    expect(judge(3, { unusual: 8, unusualBefore: 6 })).toMatchObject({
      verdict: "cannot tell",
      strange: true,
    });
    expect(judge(-3, { come: at(3) }).verdict).toBe("worse");
  });

  it("finds recordings that sound alike unchanged, whatever the odds", () => {
    expect(judge(3, { apart: 0.1 }).verdict).toBe("unchanged");
  });
});

describe("binSpreadOf(sound)", () => {
  const RATE = 16_000;
  const noise = () => {
    const random = createRandom(3);
    return Float64Array.from({ length: 6 * RATE }, () => random.normal());
  };

  it("is 10 log10(ln 0.1 / ln 0.9) for steady noise, also under blows that move all bins", () => {
    // Powers of a bin of Gaussian noise are exponentially distributed (textbook). The calmest fifth lies lower.
    const expected = 10 * Math.log10(Math.log(0.1) / Math.log(0.9));
    const steady = noise();
    expect(binSpreadOf(steady, RATE, [20, 8000])).toBeGreaterThan(expected - 1.5);
    expect(binSpreadOf(steady, RATE, [20, 8000])).toBeLessThan(expected);
    const blows = steady.map((v, i) => (i % 2000 < 400 ? 10 * v : v));
    expect(binSpreadOf(blows, RATE, [20, 8000])).toBeLessThan(COMPARISON_LIMITS.binSpreadDb);
  });

  it("passes the limit under spectral subtraction", () => {
    const suppressed = noise();
    suppressNoise(suppressed, 10);
    expect(binSpreadOf(suppressed, RATE, [20, 8000])).toBeGreaterThan(
      COMPARISON_LIMITS.binSpreadDb,
    );
  });
});

describe("intervals from blocks drawn anew", () => {
  it("cover the true difference of means nine times in ten", () => {
    // Textbook: mean of n independent values, standard error sigma / sqrt(n). Blocks here do not overlap.
    const random = createRandom(5);
    let covered = 0;
    const rounds = 60;
    for (let round = 0; round < rounds; round++) {
      const side = () => Array.from({ length: 40 }, () => ({ "repetition.0": random.normal() }));
      const [before, after] = [side(), side()];
      const mean = (blocks: readonly { "repetition.0": number }[]) =>
        blocks.reduce((sum, block) => sum + block["repetition.0"] / blocks.length, 0);
      const draws = drawPairs(before, after).map(
        (pair) => pair.after.get("repetition.0")! - pair.before.get("repetition.0")!,
      );
      const { low, high } = spreadOf(mean(after) - mean(before), draws);
      if (low <= 0 && high >= 0) covered++;
    }
    // Half of the overlapping blocks are drawn, so that independent ones are covered more often.
    expect(covered / rounds).toBeGreaterThan(0.85);
  });
});
