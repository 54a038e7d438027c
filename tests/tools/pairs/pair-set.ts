import type { Component, Phase } from "../../../src/machine/words.js";

/** A recording of a washer, as a phone gives it. */
export interface PairRecording {
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
  /** The phone suppresses noise, clips, or carries little more than speech. */
  readonly harsh: boolean;
}

/**
 * How the phones and rooms of a set are drawn. `free`: each recording by any phone, in any room. `fitting`:
 * the same without noise suppression and clipping, and more recordings. `ordinary`: what one person does
 * before and after a repair: the same phone or another that carries the whole band, at another gain and
 * place, in the same room or one of the same size.
 */
export const PAIR_DRAWS = ["free", "fitting", "ordinary"] as const;
export type PairDraw = (typeof PAIR_DRAWS)[number];

/** One washer before and after; `PairDraw` says by which phones. */
export interface PairSet {
  readonly id: string;
  readonly machine: string;
  readonly phase: Phase;
  readonly part: Component;
  /** Level of the fault over the rest in the recording before, dB; null where the generator does not say. */
  readonly faultToRestDb: number | null;
  readonly recordings: Readonly<Record<string, PairRecording>>;
}

/**
 * Recordings of a set: at which moment of the machine, and how loud the fault is against its strength before,
 * dB; null without the fault.
 */
export interface PlannedRecording {
  readonly name: string;
  readonly moment: 0 | 1;
  readonly faultDb: number | null;
}

/** Fresh noise and a drum speed up to 1.5 % off after the repair; the fault keeps its strength to 1 dB. */
export const plannedRecordings = (jitterDb: number): PlannedRecording[] => [
  { name: "before", moment: 0, faultDb: 0 },
  { name: "repaired", moment: 1, faultDb: null },
  { name: "kept", moment: 1, faultDb: jitterDb },
  { name: "weak3", moment: 1, faultDb: -3 },
  { name: "weak6", moment: 1, faultDb: -6 },
  { name: "repaired2", moment: 0, faultDb: null },
];

/** What fitting the change model needs besides: the same moment by another phone. */
export const MORE_RECORDINGS: readonly PlannedRecording[] = [
  { name: "before2", moment: 0, faultDb: 0 },
];
