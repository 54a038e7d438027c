import type { MeterAccuracy } from "./meter-accuracy.js";
import type { MeterPoint, ReadingKind } from "./meter-points.data.js";
import type { Measured, ReadingVerdict } from "./measured.js";
import type { MeterRequest } from "./meter-reading.js";
import type { ElectricalUnit, Quantity } from "./quantity.js";
import type { Limits } from "./tolerance.js";

/** A remark on a judged reading: `code` for programs, `text` for people. */
export interface MeterNote {
  readonly code: string;
  readonly text: string;
}

/** What a kind of reading decides, before the remarks that all kinds share. */
export interface Judgement {
  readonly verdict: ReadingVerdict;
  /** Why, in one sentence. */
  readonly reason: string;
  /** What passes, in the reading's unit; an end that does not matter is 0 or Infinity. */
  readonly accepts: Limits | null;
  readonly notes: readonly MeterNote[];
}

/** A request with everything parsed. */
export interface Reading {
  readonly request: MeterRequest;
  readonly point: MeterPoint;
  readonly kind: ReadingKind;
  readonly unit: ElectricalUnit;
  readonly readings: readonly Quantity[];
  readonly leads: Quantity | null;
  readonly accuracy: MeterAccuracy;
  readonly measured: readonly Measured[];
}

export interface MeterResult extends Judgement {
  readonly reading: Reading;
  /** Printed value in ohm or farad, where one was told; null for a range or none. */
  readonly printed: number | null;
  /** What must still be told for the verdict to stand. */
  readonly asks: readonly MeterNote[];
}
