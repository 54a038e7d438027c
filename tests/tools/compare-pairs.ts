// Scores `compare` on simulated washers before and after a repair. Machine, part and phase are told; speeds are
// looked for, as `compare` does.
//   npm run build:tools && node .tools/tests/tools/compare-pairs.js score SEED COUNT \
//     [first|second|third] [free|ordinary] [OUT.ndjson]
// Writes the figures that the table of `compare` is fitted from (tests/tools/fit-change-model.py):
//   node .tools/tests/tools/compare-pairs.js portraits SEED COUNT first OUT.ndjson [fitting|ordinary]
import { appendFileSync, writeFileSync } from "node:fs";
import {
  compareHeardSides,
  heardSide,
  unheardSide,
  type HeardSide,
} from "../../src/answer/compare-recordings.js";
import { hear, type ClipToDiagnose } from "../../src/answer/diagnose-recordings.js";
import { poorSide, whyNotComparable } from "../../src/comparison/comparable.js";
import { reachOf } from "../../src/comparison/reach.js";
import { summaryOf } from "../../src/comparison/summary.js";
import { washerById } from "../../src/machine/washers.js";
import { assessRecording } from "../../src/recording/assess.js";
import { firstPairs } from "./pairs/first-pairs.js";
import { PAIR_DRAWS, type PairDraw, type PairRecording, type PairSet } from "./pairs/pair-set.js";
import { secondPairs } from "./pairs/second-pairs.js";
import { thirdPairs } from "./pairs/third-pairs.js";

const [mode = "score", seedText = "1", countText = "20", simulator = "first", ...rest] =
  process.argv.slice(2);
const draw = PAIR_DRAWS.find((name) => rest.includes(name));
const out = rest.find((word) => word !== draw) ?? "";

function clipOf({ samples, sampleRateHz }: PairRecording, set: PairSet): ClipToDiagnose {
  const recording = assessRecording({
    channels: [samples],
    sampleRateHz,
    channelCount: 1,
    codec: "WAV, PCM",
    fileSeconds: samples.length / sampleRateHz,
    problems: [],
  });
  return { file: set.id, sha256: "", recording, phase: set.phase };
}

function heardOf(made: PairRecording, set: PairSet): HeardSide {
  const options = { washer: washerById(set.machine), machineGiven: true };
  return heardSide(hear(clipOf(made, set), options), options);
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

/** Verdicts by group of pairs. */
class Tally {
  private readonly counts = new Map<string, number>();
  private readonly groups = new Set<string>();

  add(verdict: string, of: readonly string[]): void {
    for (const group of of) {
      this.groups.add(group);
      const key = `${group} ${verdict}`;
      this.counts.set(key, (this.counts.get(key) ?? 0) + 1);
    }
  }

  rows(): string[] {
    return [...this.groups].sort().map((group) => this.row(group));
  }

  private row(group: string): string {
    const counts = VERDICTS.map((verdict) => this.counts.get(`${group} ${verdict}`) ?? 0);
    const total = counts.reduce((sum, count) => sum + count, 0);
    const share = `${((100 * counts[0]!) / total).toFixed(1)} % cured`;
    return `${group.padEnd(28)} ${String(total).padStart(5)}  ${counts.map((n) => String(n).padStart(6)).join(" ")}  ${share}`;
  }
}

const LEVEL_STEP_DB = 4;

/** Of what a pair is one: all, those that can be compared, whose fault stood out, by level, by phone, by part. */
function groupsOf(set: PairSet, names: readonly [string, string], sides: readonly HeardSide[]) {
  const [before, after] = sides.map(({ side }) => side) as [HeardSide["side"], HeardSide["side"]];
  const harsh = names.some((name) => set.recordings[name]!.harsh);
  if (whyNotComparable(before, after) !== null) {
    return ["1 all", `6 refused, ${harsh ? "harsh" : "mild"} phones`];
  }
  const heard = reachOf(before).enough ? "heard" : "faint";
  const groups = ["1 all", "2 comparable", `3 ${heard}`];
  if (set.faultToRestDb !== null) {
    const low = LEVEL_STEP_DB * Math.min(2, Math.floor(set.faultToRestDb / LEVEL_STEP_DB));
    groups.push(`4 fault ${String(low).padStart(2)} dB and over`);
  }
  return [...groups, `5 ${set.part}`];
}

function score(sets: Iterable<PairSet>): void {
  const tallies = new Map(Object.keys(KINDS).map((kind) => [kind, new Tally()]));
  for (const set of sets) {
    const { id, part, phase, faultToRestDb } = set;
    const heard = new Map(
      Object.entries(set.recordings).map(([name, made]) => [name, heardOf(made, set)]),
    );
    for (const [kind, names] of Object.entries(KINDS)) {
      const [before, after] = names.map((name) => heard.get(name)!) as [HeardSide, HeardSide];
      const { verdict, text, gone } = compareHeardSides({ before, after }, { part });
      const groups = groupsOf(set, names, [before, after]);
      tallies.get(kind)!.add(verdict, groups);
      if (out === "") continue;
      const line = { id, part, phase, faultToRestDb, kind, verdict, text, gone, groups };
      appendFileSync(out, `${JSON.stringify(line)}\n`);
    }
  }
  process.stdout.write(`${"".padEnd(28)} pairs  ${VERDICTS.join(" ")}\n`);
  for (const [kind, tally] of tallies) {
    process.stdout.write(`${kind}\n`);
    for (const row of tally.rows()) process.stdout.write(`  ${row}\n`);
  }
}

function writePortraits(sets: Iterable<PairSet>): void {
  for (const set of sets) {
    for (const [kind, made] of Object.entries(set.recordings)) {
      const side = unheardSide(clipOf(made, set));
      const fit = poorSide(side, "before") === null;
      const figures = Object.fromEntries(summaryOf(side.portrait.blocks));
      appendFileSync(out, `${JSON.stringify({ washer: set.id, kind, fit, figures })}\n`);
    }
  }
}

type Maker = (seed: number, count: number, draw: PairDraw) => Generator<PairSet>;
const MAKERS: Readonly<Record<string, Maker>> = {
  first: firstPairs,
  second: secondPairs,
  third: thirdPairs,
};
if (out !== "") writeFileSync(out, "");
const forFitting = mode === "portraits";
const sets = MAKERS[simulator]!(
  Number(seedText),
  Number(countText),
  draw ?? (forFitting ? "fitting" : "free"),
);
if (forFitting) writePortraits(sets);
else score(sets);
