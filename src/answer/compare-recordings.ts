import { binSpreadOf } from "../comparison/bin-spread.js";
import { compareSides, type ComparedSide } from "../comparison/compare.js";
import type { ComparableSide } from "../comparison/comparable.js";
import type { ComparedPart } from "../comparison/compared-part.js";
import type { Comparison } from "../comparison/comparison.js";
import { portraitOf } from "../comparison/portrait.js";
import { leaderOf } from "../comparison/part-lean.js";
import { diagnose, type DiagnoseInput } from "../diagnosis/diagnose.js";
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

/** What is compared of a recording that was listened to. */
export function sideOf({ context, evidence, speed }: Heard): ComparableSide {
  const { sound, soundRateHz, recording } = context;
  const { problems, quality, bandHz } = recording;
  return {
    portrait: portraitOf(sound, soundRateHz, recording),
    phase: evidence.phase.label,
    drumRpm: speed.drumRpm?.value ?? null,
    quality,
    binSpreadDb: binSpreadOf(sound, soundRateHz, bandHz),
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

/** One recording as far as it is compared, judged by itself. */
export const diagnosedSide = (
  side: ComparableSide,
  clip: DiagnoseInput["clips"][number],
  options: DiagnoseOptions,
): ComparedSide => ({
  side,
  diagnosis: diagnose({
    clips: [clip],
    washer: options.washer,
    circumstances: options,
    told: {
      machine: options.machineGiven,
      phase: side.phase !== "unknown",
      speed: options.drumRpm !== undefined,
    },
  }),
});

const heardSide = (heard: Heard, options: DiagnoseOptions): ComparedSide =>
  diagnosedSide(
    sideOf(heard),
    { recording: heard.clip.recording, evidence: heard.evidence },
    options,
  );

/** Compares what was heard of both. */
export function compareHeardSides(
  { before, after }: Pair<ComparedSide>,
  { part: told, partFrom }: PartToCompare,
): Comparison {
  const part: ComparedPart =
    told === undefined
      ? { component: leaderOf(before.diagnosis), from: "sound" }
      : { component: told, from: partFrom ?? "told" };
  return compareSides(before, after, part);
}

/** Whether both files hold one and the same recording, which says nothing of a repair. */
export const isOneRecording = ({ recordings: [before, after] }: ComparisonAnswer): boolean =>
  before!.sha256 !== "" && before!.sha256 === after!.sha256;

/** Two recordings that were listened to: is the noise gone? Pure: no files, no clock. */
export function compareHeard(
  { before: was, after: is }: Pair<Heard>,
  options: CompareOptions,
): ComparisonAnswer {
  const before = heardSide(was, options);
  const after = heardSide(is, options);
  const sides = [before.side, after.side] as const;
  return {
    schema: "washer-noise/comparison@1",
    ...compareHeardSides({ before, after }, options),
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
