import { binSpreadOf } from "../comparison/bin-spread.js";
import { compareSides } from "../comparison/compare.js";
import type { ComparableSide } from "../comparison/comparable.js";
import type { ComparedPart, Comparison } from "../comparison/comparison.js";
import { portraitOf } from "../comparison/portrait.js";
import { reachOf, type Reach } from "../comparison/reach.js";
import { rankComponents, type RankedComponent } from "../diagnosis/ranking.js";
import { hearClip, viewsOf } from "../diagnosis/view.js";
import { SOUND_RATE_HZ } from "../evidence/context.js";
import type { Component } from "../machine/words.js";
import type { Recording } from "../recording/recording.js";
import { resample } from "../signal/resample.js";
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

function sideFrom(
  sound: Float64Array,
  soundRateHz: number,
  recording: Recording,
  point: Pick<ComparableSide, "phase" | "drumRpm">,
): ComparableSide {
  const { problems, quality, bandHz } = recording;
  return {
    portrait: portraitOf(sound, soundRateHz, recording),
    ...point,
    quality,
    binSpreadDb: binSpreadOf(sound, soundRateHz, bandHz),
    overdriven: problems.some(({ code }) => code === "clipped"),
    blocked: problems.some(({ severity }) => severity === "blocks"),
  };
}

const sideOf = ({ context, evidence, speed }: Heard): ComparableSide =>
  sideFrom(context.sound, context.soundRateHz, context.recording, {
    phase: evidence.phase.label,
    drumRpm: speed.drumRpm?.value ?? null,
  });

/** One recording as far as it can be known without a speed: quick. */
export function unheardSide({ recording, phase }: ClipToDiagnose): ComparableSide {
  const sound = resample(recording.samples, recording.sampleRateHz, SOUND_RATE_HZ);
  return sideFrom(sound, SOUND_RATE_HZ, recording, { phase, drumRpm: null });
}

/** What `compare` can see of a cure, from the recording before alone. */
export const reachOfRecording = (before: ClipToDiagnose): Reach => reachOf(unheardSide(before));

/** How far the rules speak for a part against a machine in order, nats; null for a part it does not have. */
function leanOf(ranking: readonly RankedComponent[], part: Component): number | null {
  const natsOf = (name: Component) => ranking.find(({ component }) => component === name)?.nats;
  const [own, normal] = [natsOf(part), natsOf("normal")];
  return own === undefined || normal === undefined ? null : own - normal;
}

/** Listens to both recordings, once for the answer and its pictures. */
export const hearPair = (
  before: ClipToDiagnose,
  after: ClipToDiagnose,
  options: DiagnoseOptions,
): Pair<Heard> => ({ before: hear(before, options), after: hear(after, options) });

/** What a comparison needs of one recording. */
export interface HeardSide {
  readonly side: ComparableSide;
  readonly ranking: readonly RankedComponent[];
}

export const heardSide = (heard: Heard, options: DiagnoseOptions): HeardSide => ({
  side: sideOf(heard),
  ranking: rankComponents(viewsOf([hearClip(heard.evidence)]), options.washer, options, "good"),
});

/** Compares what was heard of both. */
export function compareHeardSides(
  { before, after }: Pair<HeardSide>,
  { part: told, partFrom }: PartToCompare,
): Comparison {
  const { ranking } = before;
  const leader = ranking.find(({ component }) => component !== "normal" && component !== "other")!;
  const part: ComparedPart =
    told === undefined
      ? { component: leader.component, from: "sound" }
      : { component: told, from: partFrom ?? "told" };
  const soundsInOrder = ranking[0]!.component === "normal";
  const was = leanOf(ranking, part.component);
  const is = leanOf(after.ranking, part.component);
  const lean = was === null || is === null ? null : { before: was, after: is };
  return compareSides(before.side, after.side, { part, soundsInOrder, lean });
}

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
