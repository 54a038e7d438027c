import type { Random } from "../foundation/random.js";
import { mean, quantiles } from "../foundation/statistics.js";
import { rankOfTruth, targetOf, type Pair } from "./pair.js";

/** Claimed chance of the top answer, and whether it was right. */
interface Claim {
  readonly chance: number;
  readonly right: boolean;
}

export interface ReliabilityBin {
  readonly claimed: number;
  readonly right: number;
  readonly n: number;
}

export interface Calibration {
  /** Expected calibration error of the top answer over bins of equal mass, with a 95 % interval. */
  readonly ece: { readonly value: number; readonly low: number; readonly high: number };
  /** Mean over recordings of Σ over components (chance - truth)²; 0 is perfect, 2 the worst. */
  readonly brier: number;
  readonly bins: readonly ReliabilityBin[];
  readonly n: number;
}

const BIN_COUNT = 8;
const RESAMPLES = 400;

const claimOf = (pair: Pair): Claim => ({
  chance: pair.answer.components[0]?.probability ?? 0,
  right: rankOfTruth(pair) === 1,
});

function binsOf(claims: readonly Claim[]): ReliabilityBin[] {
  const sorted = [...claims].sort((a, b) => a.chance - b.chance);
  const count = Math.max(1, Math.min(BIN_COUNT, Math.floor(sorted.length / 5)));
  return Array.from({ length: count }, (_, i) => {
    const part = sorted.slice(
      Math.floor((i * sorted.length) / count),
      Math.floor(((i + 1) * sorted.length) / count),
    );
    const n = part.length;
    return {
      claimed: part.reduce((sum, claim) => sum + claim.chance, 0) / n,
      right: part.filter((claim) => claim.right).length / n,
      n,
    };
  });
}

const eceOf = (bins: readonly ReliabilityBin[], n: number): number =>
  bins.reduce((sum, bin) => sum + (bin.n / n) * Math.abs(bin.claimed - bin.right), 0);

function brierOf(pair: Pair): number {
  const target = targetOf(pair);
  return pair.answer.components.reduce(
    (sum, { component, probability }) => sum + (probability - (component === target ? 1 : 0)) ** 2,
    0,
  );
}

/**
 * How far claimed chances can be believed. The interval of the error comes from resampling recordings,
 * less what resampling itself adds.
 * Equal-mass bins follow Nguyen and O'Connor (2015); they do not leave bins empty.
 */
export function calibrationOf(pairs: readonly Pair[], random: Random): Calibration | null {
  const n = pairs.length;
  if (n === 0) return null;
  const claims = pairs.map(claimOf);
  const bins = binsOf(claims);
  const resampled = Array.from({ length: RESAMPLES }, () => {
    const drawn = claims.map(() => random.pick(claims));
    return eceOf(binsOf(drawn), n);
  });
  const value = eceOf(bins, n);
  const [low, high] = quantiles(resampled, [0.025, 0.975]) as [number, number];
  // Distances of few recordings are never negative: chance raises the error once in the clips, and once more in
  // each resample. That second time is taken off.
  const raised = mean(resampled) - value;
  return {
    ece: { value, low: Math.max(0, low - raised), high: high - raised },
    brier: pairs.reduce((sum, pair) => sum + brierOf(pair), 0) / n,
    bins,
    n,
  };
}
