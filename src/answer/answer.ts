import type { CharacterAnswer } from "../diagnosis/character.js";
import type { DiagnosedComponent } from "../diagnosis/diagnose.js";
import type { PredictionSet } from "../diagnosis/prediction-set.js";
import type { VerdictAnswer } from "../diagnosis/verdict.js";
import type {
  ImpactEvent,
  LineFinding,
  Measurement,
  PhaseGuess,
  ToneFinding,
} from "../evidence/evidence.js";
import type { FeatureId } from "../evidence/features.data.js";
import type { NextCheck } from "../inspection/next-check.js";
import type { Phase } from "../machine/words.js";
import type { ProblemCode, RecordingProblem } from "../recording/recording.js";
import type { Estimate, SpeedNote, SpeedPoint } from "../speed/speed-estimate.js";

export interface AnsweredPhase {
  readonly label: Phase;
  readonly given: boolean;
}

export interface AnsweredSpeed {
  readonly drumRpm: Estimate | null;
  readonly motorRpm: Estimate | null;
  readonly lineHz: 50 | 60 | null;
  readonly track: readonly SpeedPoint[];
  readonly notes: readonly SpeedNote[];
}

/** One recording: what it is, and what was made of it. */
export interface AnsweredRecording {
  readonly file: string;
  readonly sha256: string;
  readonly durationSeconds: number;
  readonly sampleRateHz: number;
  readonly channels: number;
  readonly codec: string;
  readonly bandHz: readonly [low: number, high: number];
  readonly problems: readonly { readonly code: ProblemCode; readonly message: string }[];
  readonly phase: AnsweredPhase;
  readonly speed: AnsweredSpeed;
  readonly character: Pick<CharacterAnswer, "label" | "scores">;
}

/** The figures behind one recording, for people who want to check. */
export interface RecordingFigures {
  readonly file: string;
  readonly phase: PhaseGuess;
  readonly problems: readonly RecordingProblem[];
  readonly features: Readonly<Record<FeatureId, Measurement>>;
  readonly lines: readonly LineFinding[];
  readonly tones: readonly ToneFinding[];
  readonly impacts: readonly ImpactEvent[];
}

/** The answer of `diagnose`, as printed by `--json`. */
export interface Answer {
  readonly schema: "washer-noise/diagnosis@1";
  readonly recordings: readonly AnsweredRecording[];
  readonly machine: { readonly id: string; readonly given: boolean; readonly label: string };
  readonly phase: AnsweredPhase;
  readonly speed: AnsweredSpeed;
  readonly character: Pick<CharacterAnswer, "label" | "scores">;
  readonly components: readonly DiagnosedComponent[];
  readonly verdict: VerdictAnswer;
  /** Parts among which the cause lies in nine cases of ten like those of calibration. */
  readonly predictionSet: PredictionSet;
  readonly nextChecks: readonly NextCheck[];
  readonly cautions: readonly string[];
  /** What nobody told: estimated from the sound, or, as kind of machine and age, left open. */
  readonly estimated: readonly string[];
}
