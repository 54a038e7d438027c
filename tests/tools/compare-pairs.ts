// Scores `compare` on simulated washers before and after a repair. Machine, part and phase are told; speeds are
// looked for, as `compare` does. Listening takes long, so that it is done once and kept:
//   npm run build:tools
//   node .tools/tests/tools/compare-pairs.js hear first|second|third|fourth SEED COUNT free|fitting|ordinary OUT.ndjson [SECONDS]
//   node .tools/tests/tools/compare-pairs.js score OUT.ndjson...
// What the weights of `compare` are fitted from (tests/tools/fit-change-model.py):
//   node .tools/tests/tools/compare-pairs.js signs OUT.ndjson... SIGNS.ndjson
import { appendFileSync, writeFileSync } from "node:fs";
import { compareHeardSides } from "../../src/answer/compare-recordings.js";
import { whyNotComparable } from "../../src/comparison/comparable.js";
import { summaryOf } from "../../src/comparison/summary.js";
import { fineChange } from "../../src/comparison/fine-bands.js";
import { judgedChange, signsOf } from "../../src/comparison/weigh-change.js";
import { firstPairs } from "./pairs/first-pairs.js";
import { fourthPairs } from "./pairs/fourth-pairs.js";
import { keptRecordings, keptSets, type KeptSet } from "./pairs/kept-pair.js";
import { PAIR_DRAWS, type PairDraw, type PairSet } from "./pairs/pair-set.js";
import { secondPairs } from "./pairs/second-pairs.js";
import { thirdPairs } from "./pairs/third-pairs.js";

type Maker = (seed: number, count: number, draw: PairDraw, seconds: number) => Generator<PairSet>;
const MAKERS: Readonly<Record<string, Maker>> = {
  first: firstPairs,
  second: secondPairs,
  third: thirdPairs,
  fourth: fourthPairs,
};

function listenTo(args: readonly string[]): void {
  const [simulator = "", seed, count, drawName, out = "", seconds = 15] = args;
  const draw = PAIR_DRAWS.find((name) => name === drawName)!;
  writeFileSync(out, "");
  for (const set of MAKERS[simulator]!(Number(seed), Number(count), draw, Number(seconds))) {
    const lines = keptRecordings(set, simulator).map((one) => `${JSON.stringify(one)}\n`);
    appendFileSync(out, lines.join(""));
  }
}

const KINDS: Readonly<Record<string, readonly [before: string, after: string]>> = {
  repaired: ["before", "repaired"],
  "not repaired": ["before", "kept"],
  "not repaired, turned round": ["kept", "before"],
  "3 dB weaker": ["before", "weak3"],
  "6 dB weaker": ["before", "weak6"],
  "6 dB stronger": ["weak6", "kept"],
  "fault came": ["repaired2", "kept"],
  "in order in both": ["repaired2", "repaired"],
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

/** A technician repairs where the first recording names parts and not a machine in order. */
const FAULTY = new Set(["likely", "shortlist"]);

/** Of what a pair is one: all, those that can be compared, those in which a fault was diagnosed. */
function groupsOf({ sides }: KeptSet, names: readonly [string, string]): string[] {
  const [before, after] = names.map((name) => sides.get(name)!) as [Side, Side];
  if (whyNotComparable(before.side, after.side) !== null) {
    return ["1 all", `4 refused, ${before.harsh || after.harsh ? "harsh" : "mild"} phones`];
  }
  const { verdict, ranking } = before.diagnosis;
  const faulty = FAULTY.has(verdict.label) && ranking[0]!.component !== "normal";
  return ["1 all", "2 comparable", faulty ? "3 diagnosed as faulty" : "3 not diagnosed as faulty"];
}
type Side = NonNullable<ReturnType<KeptSet["sides"]["get"]>>;

function score(paths: readonly string[]): void {
  const tallies = new Map(Object.keys(KINDS).map((kind) => [kind, new Tally()]));
  for (const kept of keptSets(paths)) {
    for (const [kind, names] of Object.entries(KINDS)) {
      const [before, after] = names.map((name) => kept.sides.get(name)) as [Side, Side];
      const { verdict } = compareHeardSides({ before, after }, { part: kept.set.part });
      tallies.get(kind)!.add(verdict, groupsOf(kept, names));
    }
  }
  process.stdout.write(`${"".padEnd(28)} pairs  ${VERDICTS.join(" ")}\n`);
  for (const [kind, tally] of tallies) {
    process.stdout.write(`${kind}\n`);
    for (const row of tally.rows()) process.stdout.write(`  ${row}\n`);
  }
}

/** One line a pair that can be compared: which hand made it, what it is, and its signs. */
function writeSigns(paths: readonly string[]): void {
  const out = paths.at(-1)!;
  writeFileSync(out, "");
  for (const { set, sides } of keptSets(paths.slice(0, -1))) {
    for (const [kind, names] of Object.entries(KINDS)) {
      const [before, after] = names.map((name) => sides.get(name)!) as [Side, Side];
      if (whyNotComparable(before.side, after.side) !== null) continue;
      const judged = judgedChange(before.diagnosis, after.diagnosis, set.part);
      const [was, is] = [before, after].map(({ side }) => summaryOf(side.portrait.blocks));
      const signs = signsOf(fineChange(was!, is!), judged);
      const { label } = before.diagnosis.verdict;
      const line = { hand: set.hand, washer: set.id, kind, label, ...judged, ...signs };
      appendFileSync(out, `${JSON.stringify(line)}\n`);
    }
  }
}

const [mode, ...rest] = process.argv.slice(2);
if (mode === "hear") listenTo(rest);
else if (mode === "signs") writeSigns(rest);
else score(rest);
