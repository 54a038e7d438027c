import type { Phase } from "../../src/machine/words.js";

/** Where in the speed range a noise lives: all of it, the passage of the tub's own swing, or a crawl. */
export type Habitat = "any" | "window" | "crawl";

/** The three ways a spin is met in a clip. */
export const SPIN_KINDS = ["plateau", "slow", "run-up"] as const;
export type SpinKind = (typeof SPIN_KINDS)[number];

/** One way of an agitator, one spell of tumbling or one push by hand, in seconds. */
export interface Stroke {
  from: number;
  to: number;
  forward: boolean;
}

export interface CourseWish {
  phase: Phase;
  seconds: number;
  rate: number;
  spin?: SpinKind;
  habitat?: Habitat;
}

/** Knots stand this far apart. */
export const KNOT_HZ = 250;

/** What the phase's own file draws: knots at `KNOT_HZ`. */
export interface Knots {
  kind: string;
  plateauRpm?: number;
  drumHz: Float64Array;
  motorHz: Float64Array;
  inputHz: Float64Array;
  pull: Float64Array;
  fed: Float64Array;
  strokes: Stroke[];
}
