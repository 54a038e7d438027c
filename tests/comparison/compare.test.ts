// Before and after a repair. What must hold is common practice of the trade (no source): matched phase and
// speed, ratios instead of levels, no "cured" while the fault is heard, none when voice processing hides it.
import { beforeAll, describe, expect, it } from "vitest";
import { compareHeard, type ComparisonAnswer } from "../../src/answer/compare-recordings.js";
import { hear, type ClipToDiagnose, type Heard } from "../../src/answer/diagnose-recordings.js";
import { binSpreadOf } from "../../src/comparison/bin-spread.js";
import type { ComparedPart } from "../../src/comparison/compared-part.js";
import { fineBandsOf, fineChange } from "../../src/comparison/fine-bands.js";
import { judgeChange, type ChangeOdds } from "../../src/comparison/judge-change.js";
import { COMPARISON_LIMITS } from "../../src/comparison/limits.data.js";
import type { Judged } from "../../src/comparison/part-lean.js";
import { showsNoFault } from "../../src/comparison/reach.js";
import { drawPairs, spreadOf } from "../../src/comparison/resample-blocks.js";
import { createRandom } from "../../src/foundation/random.js";
import { washerById } from "../../src/machine/washers.js";
import type { Component, Phase, Verdict } from "../../src/machine/words.js";
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
    durationSeconds: 8,
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

const OPTIONS = { washer: washerById(MACHINE), machineGiven: true, drumRpm: 900 };
const kept = new Map<ClipToDiagnose, Heard>();

/** Listening takes long: once a clip. */
function heard(one: ClipToDiagnose): Heard {
  const found = kept.get(one) ?? hear(one, OPTIONS);
  kept.set(one, found);
  return found;
}

const compared = (before: ClipToDiagnose, after: ClipToDiagnose, part?: Component) =>
  compareHeard(
    { before: heard(before), after: heard(after) },
    { ...OPTIONS, ...(part === undefined ? {} : { part }) },
  );

let faulty: ClipToDiagnose;
let repaired: ClipToDiagnose;
let cure: ComparisonAnswer;

beforeAll(() => {
  faulty = clip(["rotor-stator"]);
  repaired = clip([], 0.3);
  cure = compared(faulty, repaired, "rotor-stator");
});

describe("compareHeard({ before, after })", () => {
  it("finds equal recordings unchanged, at any gain", () => {
    const answer = compared(faulty, clip(["rotor-stator"], 0.2));
    expect(answer.verdict).toBe("unchanged");
    expect(answer.features.find(({ feature }) => feature === "fine-peaks")!.after).toBeCloseTo(
      1,
      2,
    );
  });

  it("speaks for the noise being gone after the repair, and never for a fault that stays", () => {
    expect(["cured", "better", "cannot tell"]).toContain(cure.verdict);
    expect(cure.gone!.value).toBeGreaterThan(0);
    expect(cure.gone!.low).toBeLessThan(cure.gone!.value);
    expect(cure.componentFrom).toBe("told");
    expect(compared(repaired, faulty).verdict).not.toBe("cured");
  });

  it("gives figures of the diagnosis and an interval for what can be drawn anew, in words", () => {
    const [peaks, ...rest] = cure.features;
    expect(peaks!.feature).toBe("fine-peaks");
    expect(peaks!.change!.low).toBeLessThan(peaks!.change!.high);
    expect(rest.length).toBeGreaterThanOrEqual(4);
    for (const { meaning, before, after } of rest) {
      expect(meaning).toMatch(/[a-z]{3}/);
      expect(Number.isFinite(before) && Number.isFinite(after)).toBe(true);
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

describe("showsNoFault(judged, part)", () => {
  it("leaves no cure to a part that only an undecided recording suggests, unless somebody named it", () => {
    const judged = (label: Verdict): Judged => ({ verdict: { label, text: "" }, ranking: [] });
    const part = (from: ComparedPart["from"]): ComparedPart => ({ component: "drum-spider", from });
    expect(showsNoFault(judged("record-again"), part("sound"))).toBe(true);
    expect(showsNoFault(judged("record-again"), part("told"))).toBe(false);
    expect(showsNoFault(judged("record-again"), part("job"))).toBe(false);
    expect(showsNoFault(judged("shortlist"), part("sound"))).toBe(false);
    expect(showsNoFault(judged("normal-sound"), part("told"))).toBe(true);
  });
});

describe("judgeChange(odds)", () => {
  const at = (value: number, half = 0.2) => ({ value, low: value - half, high: value + half });
  const usual = {
    come: at(-3),
    reach: 4,
    fall: 3,
    rise: -2,
    noFaultShown: false,
    alike: false,
  };
  const judge = (gone: number, other: Partial<ChangeOdds> = {}) =>
    judgeChange({ ...usual, gone: at(gone), ...other });

  it("calls it cured only when the interval does not reach down to unchanged", () => {
    expect(judge(4).verdict).toBe("cured");
    expect(judge(4, { gone: at(4, 6) }).verdict).not.toBe("cured");
    expect(judge(-1, { fall: 0.1 }).verdict).toBe("cannot tell");
    expect(judge(-4).verdict).toBe("unchanged");
  });

  it("never calls cured what the first recording does not show, and says so", () => {
    expect(judge(4, { noFaultShown: true })).toMatchObject({
      verdict: "cannot tell",
      faint: true,
    });
    expect(judge(4, { reach: 0 })).toMatchObject({ verdict: "cannot tell", faint: true });
  });

  it("never calls cured what speaks for the part, or for any fault, as much as before", () => {
    expect(judge(4, { fall: -1 })).toMatchObject({ verdict: "cannot tell", strange: true });
    expect(judge(4, { rise: 0.5 })).toMatchObject({ verdict: "cannot tell", strange: true });
  });

  it("calls it worse only when the signs of a fault rise by more than another phone makes them", () => {
    expect(judge(-2, { come: at(4), fall: -4, rise: 4 }).verdict).toBe("worse");
    expect(judge(-2, { come: at(4), fall: -0.5, rise: 0.5 }).verdict).not.toBe("worse");
  });

  it("finds recordings that sound alike unchanged, whatever the odds", () => {
    expect(judge(4, { alike: true }).verdict).toBe("unchanged");
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
  const summary = (sound: Float64Array) => fineBandsOf(sound, RATE, BAND)(0, 8);
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
    expect(other.differenceDb).toBeGreaterThan(
      fineChange(was, summary(coloured(3, ONE)))!.differenceDb,
    );
  });

  it("says nothing of recordings with less than two octaves in common", () => {
    const narrow = fineBandsOf(noise(1), RATE, [300, 1200])(0, 8);
    expect(fineChange(narrow, narrow)).toBeNull();
  });
});

describe("reach", () => {
  it("is more for a fault that is heard than for a machine in order, and tells how to record again", () => {
    const order = compared(repaired, faulty, "rotor-stator").reach;
    expect(cure.reach.nats!).toBeGreaterThan(order.nats!);
    expect(order.enough).toBe(false);
    expect(order.text).toMatch(/record 30 seconds/);
  });

  it("is none where the first recording holds nothing that is usable", () => {
    const talk = { ...faulty, recording: { ...faulty.recording, usable: [] } };
    expect(compared(talk, repaired).reach).toMatchObject({ nats: null, enough: false });
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
      // Levels are taken together as powers: their mean in dB is that of small changes to within 1 %.
      const side = () => Array.from({ length: 40 }, () => [0.1 * random.normal()]);
      const [before, after] = [side(), side()];
      const mean = (blocks: readonly number[][]) =>
        blocks.reduce((sum, [level]) => sum + level! / blocks.length, 0);
      const draws = drawPairs(before, after).map((pair) => pair.after[0]! - pair.before[0]!);
      const { low, high } = spreadOf(mean(after) - mean(before), draws);
      if (low <= 0 && high >= 0) covered++;
    }
    // Half of the overlapping blocks are drawn, so that independent ones are covered more often.
    expect(covered / rounds).toBeGreaterThan(0.85);
  });
});
