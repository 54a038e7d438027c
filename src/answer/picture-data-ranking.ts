import type { RankedComponent } from "../diagnosis/ranking.js";
import { logSumExp } from "../foundation/statistics.js";
import type { RankingRow } from "./picture-data.js";

/** Temperature of the softmax, from the first and last row: ln(p1 / pn) = (s1 - sn) / T. */
function temperatureOf(scores: readonly number[], chances: readonly number[]): number {
  const last = chances.length - 1;
  const logs = Math.log(chances[0]! / chances[last]!);
  return logs > 0 ? (scores[0]! - scores[last]!) / logs : 1;
}

/** The observations that a ranking rests on: every rule, the sound's character, the phase. */
function withoutEach(ranking: readonly RankedComponent[]): number[][] {
  const rules = new Set(
    ranking.flatMap((row) =>
      row.contributions.filter(({ nats }) => nats !== 0).map(({ rule }) => rule.id),
    ),
  );
  return [
    ranking.map((row) => row.characterNats),
    ranking.map((row) => row.phaseNats),
    ...[...rules].map((id) =>
      ranking.map((row) =>
        row.contributions.reduce((sum, one) => (one.rule.id === id ? sum + one.nats : sum), 0),
      ),
    ),
  ];
}

/**
 * Each part's chance, with the lowest and highest it takes when any one observation is left out: how much
 * the answer hangs on a single thing heard. Shape as the ranking.
 */
export function rankingRows(ranking: readonly RankedComponent[]): RankingRow[] {
  const scores = ranking.map((row) => Math.log(row.priorChance) + row.nats);
  const chances = ranking.map((row) => row.probability);
  const temperature = temperatureOf(scores, chances);
  const low = [...chances];
  const high = [...chances];
  for (const leftOut of withoutEach(ranking)) {
    const left = scores.map((score, i) => (score - leftOut[i]!) / temperature);
    const total = logSumExp(left);
    left.forEach((score, i) => {
      const chance = Math.exp(score - total);
      low[i] = Math.min(low[i]!, chance);
      high[i] = Math.max(high[i]!, chance);
    });
  }
  return ranking.map(({ component, probability }, i) => ({
    component,
    probability,
    low: low[i]!,
    high: high[i]!,
  }));
}
