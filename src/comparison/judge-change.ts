import type { ComparisonVerdict, Spread } from "./comparison.js";
import { CHANGE_LIMITS as LIMITS } from "./limits.data.js";

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
}

/** How a change is called. */
export interface JudgedChange {
  readonly verdict: ComparisonVerdict;
  /** The noise stood out so little before that even a full cure would hardly show. */
  readonly faint: boolean;
  /** The sound after is no nearer to machines in order than the one before. */
  readonly strange: boolean;
}

// The value beyond the limit, and no interval that reaches down to "as it was".
const passes = ({ value, low }: Spread, limit: number): boolean =>
  value >= limit && low > LIMITS.unchanged;

/** The verdict from the log-odds. "Cured" is the costly one to get wrong: doubt goes to the others. */
export function judgeChange(odds: ChangeOdds): JudgedChange {
  const { gone, come, reach, unusual, unusualBefore, apart } = odds;
  const faint = reach < LIMITS.heard;
  const strange = unusual >= Math.min(unusualBefore, LIMITS.unusual);
  const call = (verdict: ComparisonVerdict): JudgedChange => ({ verdict, faint, strange });
  if (apart < LIMITS.alike) return call("unchanged");
  if (!strange && passes(gone, faint ? LIMITS.cured : LIMITS.curedIfHeard)) return call("cured");
  if (passes(come, LIMITS.worse)) return call("worse");
  if (gone.value <= LIMITS.unchanged && gone.high < LIMITS.cured) return call("unchanged");
  const less = !faint && !strange && passes(gone, LIMITS.better);
  return call(less ? "better" : "cannot tell");
}
