import { rankOfTruth, type Pair } from "./pair.js";

/** Share of wrong top answers among the recordings answered with at least this chance. */
export interface RiskPoint {
  readonly coverage: number;
  readonly risk: number;
  readonly chance: number;
}

/** Risk against coverage when recordings are answered from the surest down. */
export function riskCoverage(pairs: readonly Pair[]): RiskPoint[] {
  const sorted = pairs
    .map((pair) => ({
      chance: pair.answer.components[0]?.probability ?? 0,
      wrong: rankOfTruth(pair) === 1 ? 0 : 1,
    }))
    .sort((a, b) => b.chance - a.chance);
  let wrong = 0;
  return sorted.map((claim, i) => {
    wrong += claim.wrong;
    return { coverage: (i + 1) / sorted.length, risk: wrong / (i + 1), chance: claim.chance };
  });
}

/** Area under the risk-coverage curve: the mean risk over all coverages; NaN when empty. */
export const areaUnderRisk = (points: readonly RiskPoint[]): number =>
  points.reduce((sum, point) => sum + point.risk, 0) / points.length;
