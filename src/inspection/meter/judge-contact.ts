import { formatOhm } from "./format-quantity.js";
import type { ReadingVerdict } from "./measured.js";
import { METER_FACTS } from "./meter-facts.data.js";
import { METER_NOTES } from "./meter-notes.js";
import type { Judgement, Reading } from "./meter-result.js";

const CLOSED_BELOW = METER_FACTS.closedBelowOhm.value;
const BAD_FROM = METER_FACTS.badContactOhm.value;
const OPEN_FROM = METER_FACTS.openAboveOhm.value;

const CLOSED_REASON: Readonly<Record<ReadingVerdict, string>> = {
  pass: "The contact is closed and clean.",
  "too-close": `Between a good contact (under ${CLOSED_BELOW} Ω) and a bad one (over ${BAD_FROM} Ω): take the leads off, work the switch a few times, measure again.`,
  fail: "The contact is bad: burnt or dirty.",
  "cannot-tell": "",
};

/** A switch pair that should be closed: near 0 ohm. */
export function judgeClosed(reading: Reading): Judgement {
  const { low, high } = reading.measured[0]!;
  const accepts = { low: 0, high: CLOSED_BELOW };
  if (low === Infinity) {
    return {
      verdict: "fail",
      reason: "The pair is open where it should be closed.",
      accepts,
      notes: [],
    };
  }
  const verdict = high < CLOSED_BELOW ? "pass" : low > BAD_FROM ? "fail" : "too-close";
  return { verdict, reason: CLOSED_REASON[verdict], accepts, notes: [] };
}

/** A switch pair that should be open, or a winding against earth: no path. */
export function judgeOpen(reading: Reading): Judgement {
  const { low, high } = reading.measured[0]!;
  const toEarth = reading.kind === "earth";
  const accepts = { low: OPEN_FROM, high: Infinity };
  const earth = toEarth ? [METER_NOTES.earthTest] : [];
  if (low === Infinity) {
    const reason = toEarth
      ? "No dead short to earth is seen."
      : "The pair is open, as it should be.";
    return { verdict: "pass", reason, accepts, notes: earth };
  }
  const verdict = high < OPEN_FROM ? "fail" : "too-close";
  const least = formatOhm(OPEN_FROM);
  const reason =
    verdict === "fail"
      ? `There is a path of less than ${least} where there should be none.`
      : `At least ${least}, but not open: damp, dirt or fingers on the tips.`;
  return { verdict, reason, accepts, notes: [METER_NOTES.openIsFinite, ...earth] };
}
