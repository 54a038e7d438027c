import { quantile } from "../foundation/statistics.js";
import type { Pair } from "./pair.js";
import { share, type Proportion } from "./proportion.js";

export interface SpeedScores {
  /** Drum speed within 1 % of the truth, over recordings whose truth tells a speed. */
  readonly withinOnePercent: Proportion;
  /** Off by a factor of about 1/2, 2, 1/3 or 3. */
  readonly octaveErrors: Proportion;
  /** The 90 % interval holds the truth, over recordings with an answer. */
  readonly intervalCover: Proportion;
  readonly answered: Proportion;
  readonly medianErrorPercent: number;
}

const FACTORS = [1 / 3, 1 / 2, 2, 3];

const truthRpm = (pair: Pair): number | null => pair.truth.drumRpm?.typical ?? null;

const ratioOf = (pair: Pair): number => pair.answer.drumRpm!.value / truthRpm(pair)!;

/** Speed error, octave errors and interval cover over the recordings whose drum speed is known. */
export function speedScores(pairs: readonly Pair[]): SpeedScores {
  const known = pairs.filter((pair) => truthRpm(pair) !== null);
  const answered = known.filter((pair) => pair.answer.drumRpm !== null);
  const isOctave = (pair: Pair): boolean =>
    FACTORS.some((factor) => Math.abs(ratioOf(pair) / factor - 1) < 0.04);
  return {
    withinOnePercent: share(
      known,
      (pair) => pair.answer.drumRpm !== null && Math.abs(ratioOf(pair) - 1) <= 0.01,
    ),
    octaveErrors: share(known, (pair) => pair.answer.drumRpm !== null && isOctave(pair)),
    intervalCover: share(answered, (pair) => {
      const { low, high } = pair.answer.drumRpm!;
      return low <= truthRpm(pair)! && truthRpm(pair)! <= high;
    }),
    answered: share(known, (pair) => pair.answer.drumRpm !== null),
    medianErrorPercent: quantile(
      answered.map((pair) => 100 * Math.abs(ratioOf(pair) - 1)),
      0.5,
    ),
  };
}
