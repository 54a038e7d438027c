import { judgeClosed, judgeOpen } from "./judge-contact.js";
import { judgeSensor } from "./judge-sensor.js";
import { judgeValue, printedOf } from "./judge-value.js";
import { judgeWindings } from "./judge-windings.js";
import { METER_FACTS } from "./meter-facts.data.js";
import { METER_ASKS, METER_NOTES } from "./meter-notes.js";
import type { MeterRequest } from "./meter-reading.js";
import type { ReadingKind } from "./meter-points.data.js";
import type { Judgement, MeterNote, MeterResult, Reading } from "./meter-result.js";
import type { PrintedValue } from "./printed-value.js";
import { readRequest } from "./read-request.js";

const JUDGES: Readonly<Record<ReadingKind, (reading: Reading) => Judgement>> = {
  resistance: judgeValue,
  capacitor: judgeValue,
  closed: judgeClosed,
  open: judgeOpen,
  earth: judgeOpen,
  windings: judgeWindings,
  sensor: judgeSensor,
};

/** Open, or so far off that no make's rating explains it. */
function isFarOff(reading: Reading, printed: number): boolean {
  const factor = METER_FACTS.otherMakeFactor.value;
  return reading.measured.some(
    ({ value }) => value === Infinity || value > printed * factor || value < printed / factor,
  );
}

interface Belonging {
  readonly verdict: Judgement["verdict"];
  readonly reason: string;
  readonly notes: readonly MeterNote[];
  readonly asks: readonly MeterNote[];
}

/** Whether the printed value belongs to the part that is fitted, and what that does to the verdict. */
function belonging(reading: Reading, judged: Judgement, printed: PrintedValue | null): Belonging {
  const { fitted, printedOn } = reading.request;
  const as = (notes: MeterNote[], asks: MeterNote[]): Belonging => ({
    verdict: judged.verdict,
    reason: judged.reason,
    notes,
    asks,
  });
  // A capacitor's marking is on the capacitor itself.
  const isOwn = printedOn === "part" || fitted === "original" || reading.kind === "capacitor";
  if (printed === null || isOwn) return as([], []);
  const { low, high } = printed.accepts;
  if (isFarOff(reading, printed.value ?? (low + high) / 2)) return as([], []);
  if (fitted === undefined) return as([], [METER_ASKS.fitted(reading.request.part)]);
  // A value read off the machine's sheet says nothing of another make's part; untold, only a bad
  // verdict is withheld: a good one is unlikely to come of the wrong value.
  if (printedOn === undefined && judged.verdict === "pass") {
    return as([METER_NOTES.otherMake], [METER_ASKS.ownValue]);
  }
  return {
    verdict: "cannot-tell",
    reason: `Against the value told this would be "${judged.verdict}", but that may not be the fitted part's value.`,
    notes: [printedOn === "machine" ? METER_NOTES.notThePart : METER_NOTES.otherMake],
    asks: [METER_ASKS.ownValue],
  };
}

function sharedNotes(reading: Reading, judged: Judgement): MeterNote[] {
  const { accuracy, leads, kind } = reading;
  const notes: MeterNote[] = [];
  const isFinite = reading.readings.some(({ value }) => value !== Infinity);
  if (accuracy.assumed && isFinite && kind !== "open" && kind !== "earth") {
    notes.push(METER_NOTES.accuracyAssumed(accuracy.percent, accuracy.counts));
  }
  const low = reading.readings.some(
    ({ value }) => value < METER_FACTS.leadsMatterBelowOhm.value && reading.unit === "ohm",
  );
  if (leads === null && low && judged.verdict !== "pass" && kind !== "open" && kind !== "earth") {
    notes.push(METER_NOTES.leadsUnknown(METER_FACTS.usualLeadsOhm.value));
  }
  return notes;
}

/**
 * Judges one meter reading: pass, fail, too close to call, or cannot tell, with the interval the part's
 * true value lies in and what must still be told.
 *
 * @throws WasherNoiseError `usage` for a part, value or option that cannot be used.
 */
export function judgeReading(request: MeterRequest): MeterResult {
  const reading = readRequest(request);
  const judged = JUDGES[reading.kind](reading);
  const printed = request.printed === undefined ? null : printedOf(reading);
  const { verdict, reason, notes, asks } = belonging(reading, judged, printed);
  return {
    reading,
    printed: printed?.value ?? null,
    verdict,
    reason,
    accepts: judged.accepts,
    notes: [...notes, ...judged.notes, ...sharedNotes(reading, judged)],
    asks,
  };
}
