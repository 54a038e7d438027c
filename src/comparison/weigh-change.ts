import { clamp } from "../foundation/statistics.js";
import type { Component } from "../machine/words.js";
import { CHANGE_SIGNS, type ChangeSign, type Signs } from "./change-model.js";
import { CHANGE_MODEL as MODEL } from "./change-model.data.js";
import type { FineChange } from "./fine-bands.js";
import { leanOf, partsInQuestion, patternShift, wrongOf, type Judged } from "./part-lean.js";

const MORE_DB = 0.5;
/** Less says that phone and place are the same too, and nothing further about the noise (1.7 dB). */
const LEAST_DIFFERENCE = 0.8;
/** Patterns that come and go change as much by themselves. */
const MOST_SHIFT = 0.35;
const MOST_FADE = 4;

/** What the diagnoses of both recordings say, without the spectra. */
export interface JudgedChange {
  readonly shift: number;
  readonly wrongBefore: number;
  readonly wrong: number;
  readonly leanBefore: number;
  readonly lean: number;
}

/** @param part the part that was repaired; the one that leads before is in question too */
export function judgedChange(before: Judged, after: Judged, part: Component): JudgedChange {
  const parts = partsInQuestion(before, part);
  return {
    shift: patternShift(before, after),
    wrongBefore: wrongOf(before),
    wrong: wrongOf(after),
    leanBefore: leanOf(before, parts),
    lean: leanOf(after, parts),
  };
}

const fadeOf = (leanBefore: number, lean: number): number =>
  clamp(leanBefore / 2 - lean, -MOST_FADE, MOST_FADE);

/** The signs of two recordings: how their fine peaks differ (null: not known), and what their diagnoses say. */
export function signsOf(fine: FineChange | null, judged: JudgedChange): Signs {
  const { shift, leanBefore, lean } = judged;
  const difference =
    fine === null
      ? MODEL.even.difference
      : Math.max(Math.log(fine.differenceDb + MORE_DB), LEAST_DIFFERENCE);
  return {
    difference,
    shift: Math.min(shift, MOST_SHIFT),
    fade: fadeOf(leanBefore, lean),
  };
}

/** Log-odds that the noise of the first recording is gone in the second, nats: bias + Σ weight × sign. */
export const oddsOf = (signs: Signs): number =>
  CHANGE_SIGNS.reduce((sum, sign) => sum + MODEL.weights[sign] * signs[sign], MODEL.bias);

/** What a sign adds against one that speaks neither way, nats. */
export const natsOf = (sign: ChangeSign, signs: Signs): number =>
  MODEL.weights[sign] * (signs[sign] - MODEL.even[sign]);

/** Log-odds that a full cure would reach, nats: how clearly the fault is heard before. */
export function reachOdds(before: Judged, part: Component): number {
  const { lean, ...usual } = MODEL.cured;
  const leanBefore = leanOf(before, partsInQuestion(before, part));
  return oddsOf({ ...usual, fade: fadeOf(leanBefore, lean) });
}
