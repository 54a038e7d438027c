import { compareSides, type ComparedSide } from "../comparison/compare.js";
import type { Comparison } from "../comparison/comparison.js";
import { shiftIntervals } from "../evidence/listen.js";
import type { Recording } from "../recording/recording.js";
import { hear, type ClipToDiagnose, type DiagnoseOptions } from "./diagnose-recordings.js";

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

const BLOCK_SECONDS = 5;

function blockOf(recording: Recording, startSeconds: number): Recording {
  const { sampleRateHz } = recording;
  const first = Math.round(startSeconds * sampleRateHz);
  const samples = recording.samples.subarray(first, first + BLOCK_SECONDS * sampleRateHz);
  const usable = shiftIntervals(recording.usable, startSeconds, BLOCK_SECONDS);
  return { ...recording, samples, durationSeconds: BLOCK_SECONDS, usable };
}

const MOST_BLOCKS = 6;

function sideOf(clip: ClipToDiagnose, options: DiagnoseOptions): ComparedSide {
  const whole = hear(clip, options);
  const { recording } = clip;
  const last = recording.durationSeconds - BLOCK_SECONDS;
  const count = Math.max(1, Math.min(MOST_BLOCKS, Math.floor((2 * last) / BLOCK_SECONDS) + 1));
  const drumRpm = whole.speed.drumRpm?.value;
  const told = drumRpm === undefined ? options : { ...options, drumRpm };
  const blocks =
    last <= 0
      ? [whole.evidence]
      : Array.from({ length: count }, (_, i) => {
          const start = count === 1 ? 0 : (i * last) / (count - 1);
          return hear({ ...clip, recording: blockOf(recording, start) }, told).evidence;
        });
  return {
    whole: whole.evidence,
    blocks,
    phase: whole.evidence.phase.label,
    drumRpm: drumRpm ?? null,
    bandHz: recording.bandHz,
    blocked: recording.problems.some((problem) => problem.severity === "blocks"),
  };
}

/** One recording before a repair and one after it: is the noise gone? Pure: no files, no clock. */
export function compareRecordings(
  before: ClipToDiagnose,
  after: ClipToDiagnose,
  options: DiagnoseOptions,
): ComparisonAnswer {
  const sides = [before, after].map((clip) => sideOf(clip, options)) as [
    ComparedSide,
    ComparedSide,
  ];
  return {
    schema: "washer-noise/comparison@1",
    ...compareSides(sides[0], sides[1], options.washer, options),
    recordings: [before, after].map(({ file, sha256 }, i) => ({
      file,
      sha256,
      drumRpm: sides[i]!.drumRpm,
      phase: sides[i]!.phase,
    })),
  };
}
