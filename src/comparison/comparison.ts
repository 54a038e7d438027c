import type { Reach } from "./reach.js";
import type { Component } from "../machine/words.js";

export type ComparisonVerdict = "cured" | "better" | "unchanged" | "worse" | "cannot tell";

/** A value with its 90 % interval from drawing blocks of the recordings anew. */
export interface Spread {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** One gain-free figure of the sound, before and after. */
export interface ComparedFeature {
  /** Its name, such as `event-low.4`. */
  readonly feature: string;
  /** What it says, in the trade's words. */
  readonly meaning: string;
  readonly unit: "dB" | "ratio";
  readonly before: number;
  readonly after: number;
  /** After less before. */
  readonly change: Spread;
  /** What it adds to the log-odds that the noise is gone, nats. */
  readonly nats: number;
}

/** Whose noise the comparison is about, and who says so. */
export interface ComparedPart {
  readonly component: Component;
  /** The user, the job's confirmed or most likely part, or the sound of the recording before. */
  readonly from: "told" | "job" | "sound";
}

/** Whether the noise that led to the diagnosis is gone. */
export interface Comparison {
  readonly verdict: ComparisonVerdict;
  /** One or two sentences: what was found, or why nothing can be told and how to record so that it can. */
  readonly text: string;
  /** The part that was repaired, or that led before. */
  readonly component: Component;
  readonly componentFrom: ComparedPart["from"];
  /** Whether the recording before can show a cure at all. */
  readonly reach: Reach;
  /** Log-odds that the noise is gone against that it is still there, nats; null when not compared. */
  readonly gone: Spread | null;
  /** The figures that moved the verdict most. */
  readonly features: readonly ComparedFeature[];
}
