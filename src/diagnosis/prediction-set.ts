import type { Component } from "../machine/words.js";
import { CALIBRATION } from "./data/calibration.data.js";
import type { RankedComponent, RecordingClass } from "./ranking.js";

/** The parts among which the cause lies with a promised chance. */
export interface PredictionSet {
  /** Promised chance that the cause is in the set. */
  readonly cover: number;
  /** Likeliest first; at least one. */
  readonly components: readonly Component[];
}

/**
 * Smallest head of the ranking whose chances add up to the class's threshold.
 *
 * The threshold is the split-conformal quantile of "chance down to the true part" over labelled
 * recordings of the same class (adaptive prediction sets: Romano, Sesia and Candès, 2020), so that nine
 * sets of ten hold the cause for recordings like those; it was set on simulated ones.
 */
export function predictionSet(
  ranking: readonly RankedComponent[],
  recordingClass: RecordingClass,
): PredictionSet {
  const { cover, threshold } = CALIBRATION.predictionSet;
  const components: Component[] = [];
  let sum = 0;
  for (const { component, probability } of ranking) {
    components.push(component);
    sum += probability;
    if (sum >= threshold[recordingClass]) break;
  }
  return { cover, components };
}
