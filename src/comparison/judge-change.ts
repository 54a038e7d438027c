import type { ComparisonVerdict, Spread } from "./comparison.js";
import { CHANGE_LIMITS as LIMITS } from "./limits.data.js";

/** Log-odds with their intervals, and what the diagnoses of both say. */
export interface ChangeOdds {
  /** That what the first recording has is gone in the second, against that it is still there. */
  readonly gone: Spread;
  /** The same the other way round: that the second has something that the first lacks. */
  readonly come: Spread;
  /** What `gone` would be after a full cure. */
  readonly reach: number;
  /** By how many nats the second speaks less for the part in question than the first. */
  readonly fall: number;
  /** By how many nats the second speaks more than the first for anything being wrong. */
  readonly rise: number;
  /** The first recording by itself sounds in order, or names no part where nobody else did. */
  readonly noFaultShown: boolean;
  /** Both spectra have the same fine peaks and both recordings show the same patterns. */
  readonly alike: boolean;
}

/** How a change is called. */
export interface CalledChange {
  readonly verdict: ComparisonVerdict;
  /** The fault shows so little before that even a full cure would hardly show. */
  readonly faint: boolean;
  /** The sound changed, but not towards a machine in order. */
  readonly strange: boolean;
}

// The value beyond the limit, and no interval that reaches down to "as it was".
const passes = ({ value, low }: Spread, limit: number): boolean =>
  value >= limit && low > LIMITS.unchanged;

/**
 * The verdict from the log-odds. "Cured" is the costly one to get wrong, then "unchanged" and "worse" of a
 * machine that was mended: doubt goes to "cannot tell".
 */
export function judgeChange(odds: ChangeOdds): CalledChange {
  const { gone, come, reach, fall, rise, noFaultShown, alike } = odds;
  const faint = noFaultShown || reach < LIMITS.heard;
  const strange = fall <= 0 || rise > 0;
  const call = (verdict: ComparisonVerdict): CalledChange => ({ verdict, faint, strange });
  if (alike) return call("unchanged");
  if (rise >= LIMITS.rise && passes(come, LIMITS.worse)) return call("worse");
  if (!strange && !faint && passes(gone, LIMITS.cured)) return call("cured");
  if (gone.value <= LIMITS.unchanged && gone.high < LIMITS.cured) return call("unchanged");
  const less = !faint && !strange && passes(gone, LIMITS.better);
  return call(less ? "better" : "cannot tell");
}
