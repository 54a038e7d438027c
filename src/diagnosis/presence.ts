import type { Measurement } from "../evidence/evidence.js";
import { clamp, logistic } from "../foundation/statistics.js";
import { pValueToLogOdds } from "../foundation/significance.js";
import type { Presence } from "./rule.js";

/** A p-value counts fully from here on: 4 nats. */
const FULL_LOG_ODDS = 4;

/**
 * How far a pattern is there, 0 to 1; null when the measurement is missing. Formulas at `Presence`.
 */
export function presenceOf(
  presence: Presence,
  measurement: Measurement | undefined,
): number | null {
  if (!measurement || measurement.value === null || measurement.quality <= 0) return null;
  const { value } = measurement;
  if (presence.form === "p") {
    return clamp(pValueToLogOdds(Math.max(value, 1e-12)) / FULL_LOG_ODDS, 0, 1);
  }
  const above = logistic((value - presence.at) / presence.width);
  return presence.form === "above" ? above : 1 - above;
}
