// Scores `compare` on simulated washers before and after a repair; all recordings of a washer come from
// different phones, gains and rooms. Part and phase are told; speeds lie within 1.5 % and are not looked for.
//   npm run build:tools && node .tools/tests/tools/compare-pairs.js score SEED COUNT [first|second|third] [OUT.ndjson]
// Writes the figures that the table of `compare` is fitted from (tests/tools/fit-change-model.py):
//   node .tools/tests/tools/compare-pairs.js portraits SEED COUNT first OUT.ndjson
import { appendFileSync, writeFileSync } from "node:fs";
import { binSpreadOf } from "../../src/comparison/bin-spread.js";
import {
  poorSide,
  whyNotComparable,
  type ComparableSide,
} from "../../src/comparison/comparable.js";
import { compareSides } from "../../src/comparison/compare.js";
import type { Comparison } from "../../src/comparison/comparison.js";
import { CHANGE_LIMITS } from "../../src/comparison/limits.data.js";
import { portraitOf } from "../../src/comparison/portrait.js";
import { summaryOf } from "../../src/comparison/summary.js";
import { weighChange } from "../../src/comparison/weigh-change.js";
import { SOUND_RATE_HZ } from "../../src/evidence/context.js";
import type { Phase } from "../../src/machine/words.js";
import { assessRecording } from "../../src/recording/assess.js";
import { resample } from "../../src/signal/resample.js";
import { firstPairs } from "./pairs/first-pairs.js";
import type { PairRecording, PairSet } from "./pairs/pair-set.js";
import { secondPairs } from "./pairs/second-pairs.js";
import { thirdPairs } from "./pairs/third-pairs.js";

const [mode = "score", seedText = "1", countText = "20", simulator = "first", out = ""] =
  process.argv.slice(2);

function sideOf({ samples, sampleRateHz }: PairRecording, phase: Phase): ComparableSide {
  const recording = assessRecording({
    channels: [samples],
    sampleRateHz,
    channelCount: 1,
    codec: "WAV, PCM",
    fileSeconds: samples.length / sampleRateHz,
    problems: [],
  });
  const sound = resample(recording.samples, recording.sampleRateHz, SOUND_RATE_HZ);
  return {
    portrait: portraitOf(sound, SOUND_RATE_HZ, recording),
    phase,
    drumRpm: null,
    quality: recording.quality,
    binSpreadDb: binSpreadOf(sound, SOUND_RATE_HZ, recording.bandHz),
    overdriven: recording.problems.some(({ code }) => code === "clipped"),
    blocked: recording.problems.some(({ severity }) => severity === "blocks"),
  };
}

const KINDS: Readonly<Record<string, readonly [before: string, after: string]>> = {
  repaired: ["before", "repaired"],
  "not repaired": ["before", "kept"],
  "not repaired, turned round": ["kept", "before"],
  "3 dB weaker": ["before", "weak3"],
  "6 dB weaker": ["before", "weak6"],
  "6 dB stronger": ["weak6", "kept"],
  "fault came": ["repaired", "before"],
  "the same recording": ["before", "before"],
};
const VERDICTS = ["cured", "better", "unchanged", "worse", "cannot tell"] as const;

/** Verdicts of one kind of pair: of all, of those that can be compared, of those whose fault stood out. */
class Tally {
  private readonly counts = new Map<string, number>();

  add(comparison: Comparison, of: readonly string[]): void {
    for (const group of of) {
      const key = `${group} ${comparison.verdict}`;
      this.counts.set(key, (this.counts.get(key) ?? 0) + 1);
    }
  }

  row(group: string): string {
    const counts = VERDICTS.map((verdict) => this.counts.get(`${group} ${verdict}`) ?? 0);
    const total = counts.reduce((sum, count) => sum + count, 0);
    const share = total === 0 ? "" : `${((100 * counts[0]!) / total).toFixed(1)} % cured`;
    return `${group.padEnd(12)} ${String(total).padStart(5)}  ${counts.map((n) => String(n).padStart(5)).join(" ")}  ${share}`;
  }
}

const GROUPS = ["all", "comparable", "heard"] as const;

function groupsOf(before: ComparableSide, after: ComparableSide): (typeof GROUPS)[number][] {
  if (whyNotComparable(before, after) !== null) return ["all"];
  const [was, is] = [before, after].map(({ portrait }) => summaryOf(portrait.blocks));
  const heard = weighChange(was!, is!).reach >= CHANGE_LIMITS.heard;
  return heard ? ["all", "comparable", "heard"] : ["all", "comparable"];
}

function score(sets: Iterable<PairSet>): void {
  const tallies = new Map(Object.keys(KINDS).map((kind) => [kind, new Tally()]));
  for (const { id, part, phase, recordings } of sets) {
    const sides = new Map(
      Object.entries(recordings).map(([name, made]) => [name, sideOf(made, phase)]),
    );
    for (const [kind, [before, after]] of Object.entries(KINDS)) {
      const [was, is] = [sides.get(before)!, sides.get(after)!];
      const facts = { part: { component: part, from: "told" as const }, soundsInOrder: false };
      const comparison = compareSides(was, is, facts);
      const groups = groupsOf(was, is);
      tallies.get(kind)!.add(comparison, groups);
      if (out === "") continue;
      const { verdict, gone } = comparison;
      appendFileSync(out, `${JSON.stringify({ id, part, phase, kind, verdict, gone, groups })}\n`);
    }
  }
  process.stdout.write(`${"".padEnd(12)} pairs  ${VERDICTS.join(" ")}\n`);
  for (const [kind, tally] of tallies) {
    process.stdout.write(`${kind}\n`);
    for (const group of GROUPS) process.stdout.write(`  ${tally.row(group)}\n`);
  }
}

function writePortraits(sets: Iterable<PairSet>): void {
  for (const { id, phase, recordings } of sets) {
    for (const [kind, made] of Object.entries(recordings)) {
      const side = sideOf(made, phase);
      const fit = poorSide(side, "before") === null;
      const figures = Object.fromEntries(summaryOf(side.portrait.blocks));
      appendFileSync(out, `${JSON.stringify({ washer: id, kind, fit, figures })}\n`);
    }
  }
}

const MAKERS = { first: firstPairs, second: secondPairs, third: thirdPairs } as const;
if (out !== "") writeFileSync(out, "");
const maker = MAKERS[simulator as keyof typeof MAKERS];
const forFitting = mode === "portraits";
const sets = maker(Number(seedText), Number(countText), forFitting);
if (forFitting) writePortraits(sets);
else score(sets);
