import type { ComparedPart } from "./compared-part.js";
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
  /** Its name: `fine-peaks`, `wrong`, or a feature of the diagnosis such as `outer-race`. */
  readonly feature: string;
  /** What it says, in the trade's words. */
  readonly meaning: string;
  readonly unit: string;
  readonly before: number;
  readonly after: number;
  /** After less before; null for a figure of the whole recording, which has no interval. */
  readonly change: Spread | null;
  /** What it adds to the log-odds that the noise is gone, nats. */
  readonly nats: number;
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
  /** What the verdict stands on: the spectra, the diagnosis, and the figures that changed most for the part. */
  readonly features: readonly ComparedFeature[];
}
