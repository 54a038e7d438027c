import type { Evidence } from "../evidence/evidence.js";
import type { Washer } from "../machine/profile.js";
import type { Component } from "../machine/words.js";
import type { Recording } from "../recording/recording.js";
import type { CharacterAnswer } from "./character.js";
import { characterWithParts } from "./character-with-parts.js";
import { CONDITIONS } from "./data/conditions.data.js";
import type { Circumstances } from "./prior.js";
import { predictionSet, type PredictionSet } from "./prediction-set.js";
import { rankComponents, type RankedComponent, type RecordingClass } from "./ranking.js";
import { reasonsOf, type Reason } from "./reasons.js";
import { verdictOf, type ToldFacts, type VerdictAnswer } from "./verdict.js";
import { hearClip, viewsOf, type HeardClip } from "./view.js";

export interface DiagnosedComponent {
  readonly component: Component;
  readonly probability: number;
  /** State of the part, where its sound tells: "early wear", "slipping". */
  readonly condition?: string;
  readonly for: readonly Reason[];
  readonly against: readonly Reason[];
}

export interface Diagnosis {
  /** Index of the recording in which the noise is heard best. */
  readonly mainClip: number;
  readonly character: CharacterAnswer;
  /** What each recording sounds like, in the order given. */
  readonly characters: readonly CharacterAnswer[];
  readonly components: readonly DiagnosedComponent[];
  readonly verdict: VerdictAnswer;
  readonly predictionSet: PredictionSet;
  readonly ranking: readonly RankedComponent[];
}

export interface DiagnoseInput {
  readonly clips: readonly { readonly recording: Recording; readonly evidence: Evidence }[];
  readonly washer: Washer;
  readonly circumstances: Circumstances;
  readonly told: ToldFacts;
}

/** Best class of the recordings: one good recording is enough. */
function classOf(recordings: readonly Recording[]): RecordingClass {
  const classes = recordings.map((recording): RecordingClass => {
    if (recording.quality.voiceCodec || recording.durationSeconds < 6) return "poor";
    return recording.problems.some((problem) => problem.severity === "limits") ? "limited" : "good";
  });
  if (classes.includes("good")) return "good";
  return classes.includes("limited") ? "limited" : "poor";
}

const unusual = (clip: HeardClip): number => 1 - clip.character.shares.none;

/** Evidence of one machine's recordings in, ranked parts with reasons and a verdict out. */
export function diagnose(input: DiagnoseInput): Diagnosis {
  const clips = input.clips.map((clip) => hearClip(clip.evidence));
  const views = viewsOf(clips);
  const recordings = input.clips.map((clip) => clip.recording);
  const recordingClass = classOf(recordings);
  const ranking = rankComponents(views, input.washer, input.circumstances, recordingClass);
  const mainClip = clips.reduce(
    (best, clip, i) => (unusual(clip) > unusual(clips[best]!) ? i : best),
    0,
  );
  const characters = clips.map((clip) => characterWithParts(clip.character, ranking));
  const character = characters[mainClip]!;
  const problems = recordings.map((recording) => recording.problems);
  return {
    mainClip,
    character,
    characters,
    components: ranking.map((row) => {
      const condition = CONDITIONS[row.component]?.[character.label];
      return {
        component: row.component,
        probability: row.probability,
        ...(condition === undefined ? {} : { condition }),
        ...reasonsOf(row, ranking, views, character.label),
      };
    }),
    verdict: verdictOf(ranking, views, problems, input.told),
    predictionSet: predictionSet(ranking, recordingClass),
    ranking,
  };
}
