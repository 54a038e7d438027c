import { compareToLimits, type Measured, type ReadingVerdict } from "./measured.js";
import { METER_FACTS } from "./meter-facts.data.js";
import { METER_NOTES } from "./meter-notes.js";
import type { Judgement, Reading } from "./meter-result.js";
import { printedOf } from "./judge-value.js";

/** How unequal three windings are, in percent of their mean. */
export interface WindingSpread {
  readonly meanOhm: number;
  /** Largest less smallest, with what the meter's counts allow. */
  readonly spreadPercent: { readonly value: number; readonly low: number; readonly high: number };
  /** Largest distance from the mean. */
  readonly deviationPercent: number;
}

/**
 * 100·(largest − smallest)/mean of three readings.
 *
 * One meter in one range reads all three: its percentage error stretches them alike, and its zero
 * error and the leads are the same in each, so they drop out of the difference. What is left there is
 * one count of the last digit in each of two readings, and the mean's own error.
 */
export function windingSpread(reading: Reading): WindingSpread {
  const ohms = reading.measured.map(({ value }) => value);
  const mean = ohms.reduce((sum, ohm) => sum + ohm, 0) / ohms.length;
  const counts = Math.max(...reading.readings.map(({ resolution }) => resolution));
  const leastMean =
    reading.measured.reduce((sum, { low }) => sum + low, 0) / reading.measured.length;
  const gap = Math.max(...ohms) - Math.min(...ohms);
  return {
    meanOhm: mean,
    spreadPercent: {
      value: (100 * gap) / mean,
      low: (100 * Math.max(0, gap - 2 * counts)) / mean,
      high: leastMean > 0 ? (100 * (gap + 2 * counts)) / leastMean : Infinity,
    },
    deviationPercent: Math.max(...ohms.map((ohm) => (100 * Math.abs(ohm - mean)) / mean)),
  };
}

const worst = (verdicts: readonly ReadingVerdict[]): ReadingVerdict =>
  verdicts.includes("fail") ? "fail" : verdicts.includes("too-close") ? "too-close" : "pass";

/** Each winding against the sheet, where a value was told. */
const againstPrinted = (reading: Reading): ReadingVerdict =>
  reading.request.printed === undefined
    ? "pass"
    : worst(
        reading.measured.map((one: Measured) => compareToLimits(one, printedOf(reading).accepts)),
      );

function equality({ spreadPercent, deviationPercent }: WindingSpread): ReadingVerdict {
  const limit = METER_FACTS.windingsPercent.value;
  if (spreadPercent.high <= limit) return "pass";
  // "Within 10 %" is said of two readings and of each from the mean: fail only by both.
  return deviationPercent > limit && spreadPercent.low > limit ? "fail" : "too-close";
}

const EQUALITY_REASON: Readonly<Record<ReadingVerdict, string>> = {
  pass: "The three windings are equal",
  "too-close": "The three windings are neither clearly equal nor clearly unequal",
  fail: "The three windings are unequal: shorted turns or a bad joint",
  "cannot-tell": "",
};

/** Three pairs of one motor: equal within 10 %, and near the sheet's value where one is told. */
export function judgeWindings(reading: Reading): Judgement {
  const accepts = reading.request.printed === undefined ? null : printedOf(reading).accepts;
  if (reading.measured.some(({ value }) => value === Infinity)) {
    return { verdict: "fail", reason: "A winding or its lead is open.", accepts, notes: [] };
  }
  const spread = windingSpread(reading);
  const equal = equality(spread);
  const sheet = againstPrinted(reading);
  const { value } = spread.spreadPercent;
  const apart = `${value.toFixed(1)} % apart, ${METER_FACTS.windingsPercent.value} % allowed`;
  const bySheet = {
    pass: "",
    fail: "; against the sheet one is out of its limits",
    "too-close": "; against the sheet one is too close to call",
    "cannot-tell": "",
  }[sheet];
  return {
    verdict: worst([equal, sheet]),
    reason: `${EQUALITY_REASON[equal]} (${apart})${bySheet}.`,
    accepts,
    notes: [METER_NOTES.windingTowards(spread.meanOhm)],
  };
}
