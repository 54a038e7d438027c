import type { Diagnosis } from "../diagnosis/diagnose.js";
import type { RankedComponent } from "../diagnosis/ranking.js";
import { clamp } from "../foundation/statistics.js";
import type { Component } from "../machine/words.js";

/** What the diagnosis of one recording says, as far as it is compared. */
export type Judged = Pick<Diagnosis, "ranking" | "verdict">;

const MOST_NATS = 5;

const rowOf = (ranking: readonly RankedComponent[], component: Component) =>
  ranking.find((row) => row.component === component);

/** Log-odds that anything is wrong with the machine heard, nats, at most 5 either way. */
export function wrongOf({ ranking }: Judged): number {
  const normal = clamp(rowOf(ranking, "normal")?.probability ?? 0, 1e-6, 1 - 1e-6);
  return clamp(Math.log((1 - normal) / normal), -MOST_NATS, MOST_NATS);
}

/** The part that leads in a recording, whether or not a machine in order is likelier. */
export const leaderOf = ({ ranking }: Judged): Component =>
  ranking.find(({ component }) => component !== "normal" && component !== "other")!.component;

/** The parts whose noise is in question: the one that was repaired, and the one that leads before. */
export function partsInQuestion(before: Judged, part: Component): Component[] {
  const own = rowOf(before.ranking, part) ? part : "other";
  return [...new Set([own, leaderOf(before)])];
}

/** How far all that was heard speaks for a part against a machine in order, nats. */
function natsFor({ ranking }: Judged, part: Component): number {
  const normal = rowOf(ranking, "normal")?.nats ?? 0;
  return (rowOf(ranking, part)?.nats ?? normal) - normal;
}

/** Which of some parts the most speaks for. */
export const likeliestOf = (judged: Judged, parts: readonly Component[]): Component =>
  parts.reduce((best, part) => (natsFor(judged, part) > natsFor(judged, best) ? part : best));

/** How far all that was heard speaks for the likeliest of some parts against a machine in order, nats. */
export const leanOf = (judged: Judged, parts: readonly Component[]): number =>
  natsFor(judged, likeliestOf(judged, parts));

/** Every row of the rule table that could be asked of a recording, with how far its pattern was there. */
function patternsOf({ ranking }: Judged): Map<string, number> {
  const all = ranking.flatMap(({ contributions }) => contributions);
  return new Map(all.map(({ rule, x }) => [rule.id, x]));
}

/** How far the patterns that the rules ask for changed, RMS over those measured in both, 0 to 1. */
export function patternShift(before: Judged, after: Judged): number {
  const [was, is] = [patternsOf(before), patternsOf(after)];
  let [sum, count] = [0, 0];
  for (const [id, x] of was) {
    const now = is.get(id);
    if (now === undefined) continue;
    sum += (now - x) ** 2;
    count++;
  }
  return count === 0 ? 0 : Math.sqrt(sum / count);
}
