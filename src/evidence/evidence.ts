import type { PhaseSignId } from "./phase/phase-signs.data.js";
import type { Hertz, Seconds } from "../foundation/units.js";
import type { ExpectedLine } from "../machine/expected-line.js";
import type { Phase } from "../machine/words.js";
import type { FeatureId } from "./features.data.js";

/** Why a number is missing: the clip cannot show it. Missing is never the same as zero. */
export type MissingReason =
  | "band"
  | "speed"
  | "short"
  | "gain-pumping"
  | "noise-suppressed"
  | "clipped"
  | "phase"
  | "no-events"
  | "mains";

/** One observed number. */
export interface Measurement {
  /** In the unit of the feature's catalogue row; null when missing. */
  readonly value: number | null;
  /** Trust in the value, 0 (missing) to 1 (as good as a clean recording gives). */
  readonly quality: number;
  readonly missing?: MissingReason;
  /** Figures that a sentence about this observation needs, for instance { hz: 68, perTurn: 5.4 }. */
  readonly detail?: Readonly<Record<string, number | string>>;
}

/** How a tone's frequency moves with the drum. */
export type Scaling = "speed-locked" | "line-locked" | "fixed" | "resonance" | "undetermined";

/** Result of looking for one expected line. */
export interface LineFinding {
  readonly line: ExpectedLine;
  /** Frequency at the clip's typical speed, where the best match within the window lies. */
  readonly heardHz: Hertz;
  /** Events per drum turn of the best match; null for lines not tied to the drum. */
  readonly heardOrder: number | null;
  /** p-value against decoys of the same clip, before and after Holm over all candidates. */
  readonly p: number;
  readonly pAdjusted: number;
  /** Falls on a drum, motor, mains or pump line, so that another cause explains it as well. */
  readonly confounded: boolean;
  /** Sidebands at the expected spacing are there (p < 0.05); null when not looked for. */
  readonly sidebands: boolean | null;
}

/** A strong tone of the clip, whatever makes it. */
export interface ToneFinding {
  readonly hz: Hertz;
  readonly drumOrder: number | null;
  /** Level over its surroundings, dB. */
  readonly prominenceDb: number;
  readonly scaling: Scaling;
}

/** A single sharp event. */
export interface ImpactEvent {
  readonly timeSeconds: Seconds;
  /** Rise over the surroundings in its band, dB. */
  readonly riseDb: number;
  /** Centre of its spectrum, Hz. */
  readonly centreHz: Hertz;
  /** Time to fall by 20 dB, or as far as it can be followed, seconds. */
  readonly decaySeconds: Seconds;
}

export interface PhaseGuess {
  readonly label: Phase;
  readonly given: boolean;
  /** How well each phase fits, summing to 1. */
  readonly scores: Readonly<Record<Phase, number>>;
  /** How strongly each sign of a phase is there, 0 to 1. */
  readonly signs?: Readonly<Record<PhaseSignId, number>>;
}

/** What was heard, as numbers. Knows nothing of which component is to blame. */
export interface Evidence {
  readonly phase: PhaseGuess;
  readonly features: Readonly<Record<FeatureId, Measurement>>;
  readonly lines: readonly LineFinding[];
  readonly tones: readonly ToneFinding[];
  readonly impacts: readonly ImpactEvent[];
}
