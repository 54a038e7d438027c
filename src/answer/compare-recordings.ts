import { binSpreadOf } from "../comparison/bin-spread.js";
import { compareSides } from "../comparison/compare.js";
import type { ComparableSide } from "../comparison/comparable.js";
import type { ComparedPart, Comparison } from "../comparison/comparison.js";
import { portraitOf } from "../comparison/portrait.js";
import { rankComponents } from "../diagnosis/ranking.js";
import { hearClip, viewsOf } from "../diagnosis/view.js";
import type { Component } from "../machine/words.js";
import type { Pair } from "./compare-picture-data.js";
import {
  hear,
  type ClipToDiagnose,
  type DiagnoseOptions,
  type Heard,
} from "./diagnose-recordings.js";

/** The answer of `compare`, as printed by `--json`. */
export interface ComparisonAnswer extends Comparison {
  readonly schema: "washer-noise/comparison@1";
  readonly recordings: readonly {
    readonly file: string;
    readonly sha256: string;
    readonly drumRpm: number | null;
    readonly phase: string;
  }[];
}

/** Whose noise the comparison is about. */
export interface PartToCompare {
  /** The part that was repaired. @defaultValue the one that leads in the recording before */
  readonly part?: Component;
  /** Who names it. @defaultValue "told" */
  readonly partFrom?: "told" | "job";
}

export interface CompareOptions extends DiagnoseOptions, PartToCompare {}

function sideOf({ clip, context, evidence, speed }: Heard): ComparableSide {
  const { problems, quality } = clip.recording;
  return {
    portrait: portraitOf(context.sound, context.soundRateHz, context.recording),
    phase: evidence.phase.label,
    drumRpm: speed.drumRpm?.value ?? null,
    quality,
    binSpreadDb: binSpreadOf(context.sound, context.soundRateHz, context.recording.bandHz),
    overdriven: problems.some(({ code }) => code === "clipped"),
    blocked: problems.some(({ severity }) => severity === "blocks"),
  };
}

/** Listens to both recordings, once for the answer and its pictures. */
export const hearPair = (
  before: ClipToDiagnose,
  after: ClipToDiagnose,
  options: DiagnoseOptions,
): Pair<Heard> => ({ before: hear(before, options), after: hear(after, options) });

/** Two recordings that were listened to: is the noise gone? Pure: no files, no clock. */
export function compareHeard(
  { before: was, after: is }: Pair<Heard>,
  options: CompareOptions,
): ComparisonAnswer {
  const ranking = rankComponents(
    viewsOf([hearClip(was.evidence)]),
    options.washer,
    options,
    "good",
  );
  const leader = ranking.find(({ component }) => component !== "normal" && component !== "other")!;
  const part: ComparedPart =
    options.part === undefined
      ? { component: leader.component, from: "sound" }
      : { component: options.part, from: options.partFrom ?? "told" };
  const soundsInOrder = ranking[0]!.component === "normal";
  const sides = [sideOf(was), sideOf(is)] as const;
  return {
    schema: "washer-noise/comparison@1",
    ...compareSides(...sides, { part, soundsInOrder }),
    recordings: [was, is].map(({ clip }, i) => ({
      file: clip.file,
      sha256: clip.sha256,
      drumRpm: sides[i]!.drumRpm,
      phase: sides[i]!.phase,
    })),
  };
}

/** One recording before a repair and one after it: is the noise gone? Pure: no files, no clock. */
export const compareRecordings = (
  before: ClipToDiagnose,
  after: ClipToDiagnose,
  options: CompareOptions,
): ComparisonAnswer => compareHeard(hearPair(before, after, options), options);
