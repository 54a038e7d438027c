import type { ComparisonVerdict, Spread } from "./comparison.js";
import { CHANGE_LIMITS as LIMITS } from "./limits.data.js";

/**
 * How far the rules of the diagnosis speak for the repaired part against a machine in order, nats, each
 * recording heard by itself.
 */
export interface Lean {
  readonly before: number;
  readonly after: number;
}

/** Log-odds with their intervals, and what else `weighChange` gives. */
export interface ChangeOdds {
  /** That what the first recording has is gone in the second, against that it is still there. */
  readonly gone: Spread;
  /** The same the other way round: that the second has something that the first lacks. */
  readonly come: Spread;
  readonly reach: number;
  readonly unusual: number;
  readonly unusualBefore: number;
  readonly apart: number;
  /** Null when nobody diagnosed the two. */
  readonly lean: Lean | null;
}

/** How a change is called. */
export interface JudgedChange {
  readonly verdict: ComparisonVerdict;
  /** The noise stood out so little before that even a full cure would hardly show. */
  readonly faint: boolean;
  /** The sound changed, but not towards a machine in order. */
  readonly strange: boolean;
}

// The value beyond the limit, and no interval that reaches down to "as it was".
const passes = ({ value, low }: Spread, limit: number): boolean =>
  value >= limit && low > LIMITS.unchanged;

// That a sound is another does not say which of the two is the better one. The signs that led to the part
// must fade; without them, the sound must come nearer to machines in order.
const towardsOrder = ({ lean, unusual, unusualBefore }: ChangeOdds): boolean =>
  lean === null ? unusual < unusualBefore : lean.after < lean.before;

/**
 * The verdict from the log-odds. "Cured" is the costly one to get wrong, then "unchanged" and "worse" of a
 * machine that was mended: doubt goes to "cannot tell".
 */
export function judgeChange(odds: ChangeOdds): JudgedChange {
  const { gone, come, reach, unusual, apart } = odds;
  const faint = reach < LIMITS.heard;
  const towards = towardsOrder(odds);
  const strange = !towards || unusual >= LIMITS.unusual;
  const call = (verdict: ComparisonVerdict): JudgedChange => ({ verdict, faint, strange });
  if (apart < LIMITS.alike) return call("unchanged");
  if (!strange && passes(gone, LIMITS.cured)) return call("cured");
  if (!towards && passes(come, LIMITS.worse)) return call("worse");
  if (gone.value <= LIMITS.unchanged && gone.high < LIMITS.cured) return call("unchanged");
  const less = !faint && !strange && passes(gone, LIMITS.better);
  return call(less ? "better" : "cannot tell");
}
