import type { Truth } from "./truth.js";

/** What the program answered for one labelled recording, as far as scores need it. */
export interface AnswerSummary {
  readonly verdict: string;
  readonly character: string;
  /** Sorted, most likely first; sums to 1. */
  readonly components: readonly { readonly component: string; readonly probability: number }[];
  /** Parts among which the cause should be, where the program says so. */
  readonly predictionSet?: { readonly components: readonly string[] };
  readonly drumRpm: { readonly value: number; readonly low: number; readonly high: number } | null;
}

/** Truth and answer side by side. The scores never see how an answer was made. */
export interface Pair {
  readonly truth: Truth;
  readonly answer: AnswerSummary;
}

/** Verdicts that name parts. */
const ANSWERING = ["likely", "shortlist", "normal-sound"];

/** The program committed itself instead of abstaining. */
export const isAnswered = (pair: Pair): boolean => ANSWERING.includes(pair.answer.verdict);

/** The label that the ranking should have on top: the first fault, or `normal`. */
export const targetOf = (pair: Pair): string => pair.truth.faults[0] ?? "normal";

/** The prediction set holds a true fault (or `normal`). */
export function isCovered(pair: Pair): boolean {
  const wanted = pair.truth.faults.length > 0 ? pair.truth.faults : ["normal"];
  return pair.answer.predictionSet!.components.some((one) => wanted.includes(one));
}

/** Place of the first true fault in the ranking, 1 for the top; Infinity when it is not there. */
export function rankOfTruth(pair: Pair): number {
  const wanted = pair.truth.faults.length > 0 ? pair.truth.faults : ["normal"];
  const place = pair.answer.components.findIndex(({ component }) => wanted.includes(component));
  return place < 0 ? Infinity : place + 1;
}
