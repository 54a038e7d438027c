import type { ComparisonVerdict, Spread } from "./comparison.js";
import { CHANGE_LIMITS as LIMITS } from "./limits.data.js";

/** Log-odds with their intervals. */
export interface ChangeOdds {
  /** That what the first recording has is gone in the second, against that it is still there. */
  readonly gone: Spread;
  /** The same the other way round: that the second has something that the first lacks. */
  readonly come: Spread;
  /** Nearly every octave became calmer, as with noise suppression in the first phone. */
  readonly calmer: boolean;
  /** Nearly every octave became livelier, as with noise suppression in the second. */
  readonly livelier: boolean;
}

/** How a change is called. */
export interface JudgedChange {
  readonly verdict: ComparisonVerdict;
  /** A noise that the recording before does not have. */
  readonly newNoise: boolean;
}

// The whole interval must lie on the side of the verdict, the value beyond the limit.
const gone = ({ value, low }: Spread, doubtful: boolean): boolean =>
  value >= (doubtful ? LIMITS.curedThoughCalmer : LIMITS.cured) && low > 0;

/** The verdict from the log-odds. "Cured" is the costly one to get wrong: doubt goes to the others. */
export function judgeChange(odds: ChangeOdds): JudgedChange {
  const newNoise = gone(odds.come, odds.livelier);
  if (gone(odds.gone, odds.calmer)) return { verdict: newNoise ? "better" : "cured", newNoise };
  if (newNoise) return { verdict: "worse", newNoise };
  const { value, low, high } = odds.gone;
  if (value <= LIMITS.unchanged && high < LIMITS.cured) return { verdict: "unchanged", newNoise };
  const less = value >= LIMITS.better && low > LIMITS.unchanged && !odds.calmer;
  return { verdict: less ? "better" : "cannot tell", newNoise };
}
