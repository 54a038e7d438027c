import type { Exploration } from "./exploration.js";
import { readingAt, type Reading } from "./reading.js";
import { scanHz } from "./family-scan.js";
import type { SpeedEstimate } from "./speed-estimate.js";

const APART = 0.03;
const WORTH_TELLING = 4;

/** The next best speed, from the same course or another one, unless it is far less likely. */
export function alternativeOf(found: Exploration, chosen: Reading): SpeedEstimate["alternative"] {
  const share = (reading: Reading): number => reading.drumHz * reading.judged.prior.plateauShare;
  const differs = (hz: number): boolean => Math.abs(Math.log(hz / share(chosen))) > APART;
  const { joint, prior } = chosen.judged;
  let place = -1;
  for (let i = 0; i < joint.odds.length; i++) {
    if (!differs(scanHz(joint, i) * prior.plateauShare)) continue;
    if (place < 0 || joint.odds[i]! > joint.odds[place]!) place = i;
  }
  const others = found.readings.filter((reading) => differs(share(reading)));
  if (place >= 0) others.push(readingAt(found.judge, found.shortTime, chosen.judged, place));
  const best = others.sort((a, b) => b.odds - a.odds)[0];
  if (best === undefined) return null;
  const logOdds = Math.max(0, chosen.odds - best.odds);
  return logOdds < WORTH_TELLING ? { drumHz: share(best), logOdds } : null;
}
