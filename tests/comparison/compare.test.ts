// Before and after a repair. What must hold is common practice of the trade (no source): matched phase and
// speed, ratios instead of levels, no "cured" while the fault is heard, none when voice processing hides it.
import { beforeAll, describe, expect, it } from "vitest";
import {
  compareRecordings,
  reachOfRecording,
  type ComparisonAnswer,
} from "../../src/answer/compare-recordings.js";
import type { ClipToDiagnose } from "../../src/answer/diagnose-recordings.js";
import { binSpreadOf } from "../../src/comparison/bin-spread.js";
import { fineBandsOf, fineChange } from "../../src/comparison/fine-bands.js";
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
  const usual = { come: at(-3), reach: 5, unusual: 4, unusualBefore: 9, apart: 1, lean: null };
  const judge = (gone: number, other: Partial<ChangeOdds> = {}) =>
    judgeChange({ ...usual, gone: at(gone), ...other });

  it("calls it cured only when the interval does not reach down to unchanged", () => {
    expect(judge(3).verdict).toBe("cured");
    expect(judge(3, { gone: at(3, 4) }).verdict).not.toBe("cured");
    expect(judge(0).verdict).toBe("cannot tell");
    expect(judge(-3).verdict).toBe("unchanged");
  });

  it("says where the noise stood out too little before to tell", () => {
    expect(judge(1)).toMatchObject({ verdict: "better", faint: false });
    expect(judge(1, { reach: 2 })).toMatchObject({ verdict: "cannot tell", faint: true });
  });

  it("goes by the signs of the part for which of two sounds is the better one", () => {
    const more = { before: 1, after: 3 };
    const fewer = { before: 3, after: 1 };
    expect(judge(3, { lean: more })).toMatchObject({ verdict: "cannot tell", strange: true });
    expect(judge(3, { lean: more, come: at(3) }).verdict).toBe("worse");
    expect(judge(3, { lean: fewer, come: at(3) }).verdict).toBe("cured");
  });

  it("never passes a sound that no machine in order makes, nor a new noise", () => {
    expect(judge(3, { unusual: 20, unusualBefore: 30 }).verdict).toBe("cannot tell");
    expect(judge(3, { unusual: 8, unusualBefore: 6 })).toMatchObject({
      verdict: "cannot tell",
      strange: true,
    });
    const stranger = { unusual: 9, unusualBefore: 4 };
    expect(judge(-3, { come: at(3), ...stranger }).verdict).toBe("worse");
  });

  it("finds recordings that sound alike unchanged, whatever the odds", () => {
    expect(judge(3, { apart: 0.1 }).verdict).toBe("unchanged");
  });
});

describe("fineChange(before, after)", () => {
  const RATE = 16_000;
  const BAND = [20, 8000] as const;
  const noise = (seed: number) => {
    const random = createRandom(seed);
    return Float64Array.from({ length: 8 * RATE }, () => random.normal());
  };
  /** Noise through a bank of narrow resonances, as of panels: textbook two-pole resonators. */
  function coloured(seed: number, resonancesHz: readonly number[]): Float64Array {
    const input = noise(seed);
    const out = input.map((v) => 0.05 * v);
    for (const hz of resonancesHz) {
      const r = Math.exp((-Math.PI * hz) / 15 / RATE);
      const c = 2 * r * Math.cos((2 * Math.PI * hz) / RATE);
      let [y1, y2] = [0, 0];
      input.forEach((v, i) => {
        const y = (1 - r) * v + c * y1 - r * r * y2;
        [y1, y2] = [y, y1];
        out[i]! += y;
      });
    }
    return out;
  }
  const summary = (sound: Float64Array) =>
    new Map(Object.entries(fineBandsOf(sound, RATE, BAND)(0, 8)));
  const ONE = [230, 410, 620, 1020, 1480, 2300, 3100, 4400];
  const OTHER = [190, 320, 520, 800, 1230, 1850, 2700, 3700];

  it("finds the same resonances alike through another gain and a phone that cuts the bass", () => {
    const was = coloured(1, ONE);
    // First difference: 6 dB an octave, the bend of a gentle high pass.
    const is = coloured(2, ONE).map((v, i, all) => 0.2 * (v - 0.9 * (all[i - 1] ?? 0)));
    expect(fineChange(summary(was), summary(is))!.correlation).toBeGreaterThan(0.9);
  });

  it("finds other resonances unlike, and more different", () => {
    const was = summary(coloured(1, ONE));
    const other = fineChange(was, summary(coloured(2, OTHER)))!;
    expect(other.correlation).toBeLessThan(0.3);
    expect(other.difference).toBeGreaterThan(
      fineChange(was, summary(coloured(3, ONE)))!.difference,
    );
  });

  it("says nothing of recordings with less than two octaves in common", () => {
    const narrow = new Map(Object.entries(fineBandsOf(noise(1), RATE, [300, 1200])(0, 8)));
    expect(fineChange(narrow, narrow)).toBeNull();
  });
});

describe("reachOfRecording(before)", () => {
  it("finds a fault easier to prove gone than a machine in order, at any gain", () => {
    const loud = reachOfRecording(faulty);
    expect(loud.nats!).toBeGreaterThan(reachOfRecording(repaired).nats!);
    expect(reachOfRecording(clip(["rotor-stator"], 0.2)).nats!).toBeCloseTo(loud.nats!, 1);
  });

  it("tells before the repair how to record where a cure would not show", () => {
    const order = reachOfRecording(clip([]));
    expect(order.enough).toBe(false);
    expect(order.text).toMatch(/Before the repair, record again/);
    const { recording } = faulty;
    const talk = { ...recording, usable: [] };
    expect(reachOfRecording({ ...faulty, recording: talk })).toMatchObject({
      nats: null,
      enough: false,
    });
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
