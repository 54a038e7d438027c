import type { Exploration } from "./exploration.js";
import { readingAt, type Reading } from "./reading.js";
import { scanHz } from "./family-scan.js";
import type { SpeedEstimate } from "./speed-estimate.js";

const APART = 0.05;
const WORTH_TELLING = 4;

/** Root mean square distance of two readings' speeds over the turns of the first, nepers. */
export function readingDistance(one: Reading, other: Reading): number {
  let weights = 0;
  let squares = 0;
  const offset = Math.log(other.drumHz / one.drumHz);
  for (let i = 0; i < one.judged.course.length; i++) {
    // A frame counts for as much as it holds of turns.
    const weight = Math.exp(one.judged.course[i]!);
    const off = offset + other.judged.course[i]! - one.judged.course[i]!;
    weights += weight;
    squares += weight * off * off;
  }
  return Math.sqrt(squares / weights);
}

/**
 * Whether two readings are of different speeds for most of the turns of the first: of those in which it is
 * heard, since where nothing is heard any course will do.
 */
export function differ(one: Reading, other: Reading): boolean {
  const offset = Math.log(other.drumHz / one.drumHz);
  let weights = 0;
  let apart = 0;
  one.judged.course.forEach((ln, i) => {
    const weight = Math.exp(ln) * Math.max(0, one.evidence[i]!);
    weights += weight;
    if (Math.abs(offset + other.judged.course[i]! - ln) > APART) apart += weight;
  });
  return apart > 0.5 * weights;
}

/** The next best speed, from the same course or another one, unless it is far less likely. */
export function alternativeOf(found: Exploration, chosen: Reading): SpeedEstimate["alternative"] {
  const { joint } = chosen.judged;
  let place = -1;
  for (let i = 0; i < joint.odds.length; i++) {
    if (Math.abs(Math.log(scanHz(joint, i) / chosen.drumHz)) <= APART) continue;
    if (place < 0 || joint.odds[i]! > joint.odds[place]!) place = i;
  }
  const others = found.readings.filter((one) => differ(chosen, one));
  if (place >= 0) others.push(readingAt(found.judge, found.shortTime, chosen.judged, place));
  const best = others.sort((a, b) => b.odds - a.odds)[0];
  if (best === undefined) return null;
  const alike = found.readings.filter((one) => !differ(chosen, one)).map(({ odds }) => odds);
  const logOdds = Math.max(0, Math.max(chosen.odds, ...alike) - best.odds);
  if (logOdds >= WORTH_TELLING) return null;
  return { drumHz: best.drumHz * best.judged.prior.plateauShare, logOdds };
}
