import { WasherNoiseError } from "../../foundation/errors.js";
import { readingError, type MeterAccuracy } from "./meter-accuracy.js";
import { METER_FACTS } from "./meter-facts.data.js";
import type { Quantity } from "./quantity.js";
import type { Limits } from "./tolerance.js";

/** What the part measures once the leads are taken off, and between which values it surely lies. */
export interface Measured {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /**
   * Standard uncertainty, same unit: errors of reading and leads as evenly spread within their
   * limits, joined by root sum of squares (JCGM 100:2008, 4.3.7 and 5.1.2).
   */
  readonly standardUncertainty: number;
}

const OPEN_CIRCUIT: Measured = {
  value: Infinity,
  low: Infinity,
  high: Infinity,
  standardUncertainty: 0,
};

/**
 * Takes the leads off a reading. The interval is the worst case: both errors at their limits, in the
 * same direction. Leads that nobody measured may be worth up to 0.5 ohm; that matters in low readings
 * only, and there it widens the interval downward.
 *
 * @throws WasherNoiseError `usage` when the leads read more than the part.
 */
export function measuredValue(
  reading: Quantity,
  leads: Quantity | null,
  accuracy: MeterAccuracy,
): Measured {
  if (reading.value === Infinity) return OPEN_CIRCUIT;
  const ofReading = readingError(reading, accuracy);
  const ofLeads = leads === null ? 0 : readingError(leads, accuracy);
  const value = reading.value - (leads?.value ?? 0);
  const half = ofReading + ofLeads;
  const unmeasuredLeads =
    leads === null &&
    reading.unit === "ohm" &&
    reading.value < METER_FACTS.leadsMatterBelowOhm.value
      ? METER_FACTS.usualLeadsOhm.value
      : 0;
  if (value + half < 0) {
    throw new WasherNoiseError(
      "usage",
      `--leads must not read more than the part, received leads ${leads?.text} and reading ` +
        `${reading.text}; hold the tips together and read the leads again.`,
      { leads: leads?.text, reading: reading.text },
    );
  }
  return {
    value,
    low: value - half - unmeasuredLeads,
    high: value + half,
    standardUncertainty: Math.hypot(ofReading, ofLeads) / Math.sqrt(3),
  };
}

export type ReadingVerdict = "pass" | "fail" | "too-close" | "cannot-tell";

/**
 * Guarded decision (JCGM 106:2012, clause 8): pass when all that the reading can mean lies within the
 * limits, fail when none of it does, otherwise too close to call.
 */
export function compareToLimits(measured: Limits, accepts: Limits): ReadingVerdict {
  if (measured.low >= accepts.low && measured.high <= accepts.high) return "pass";
  if (measured.high < accepts.low || measured.low > accepts.high) return "fail";
  return "too-close";
}
