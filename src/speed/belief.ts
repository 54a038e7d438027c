import { differ } from "./alternative.js";
import { scanHz } from "./family-scan.js";
import type { Exploration } from "./exploration.js";
import { readingAt, type Reading } from "./reading.js";

// Lines of one clip share their noise and their cause, so that odds summed over them claim too much. Likeliest
// divisor for the true speed among all, on 56 spins and run-downs of the third generator: 1.0 to 1.3 fit about alike.
const TEMPERATURE = 1.3;
const APART = 0.05;
const SECOND_PLACES = 3;

/** The likeliest other speeds along the course of a reading itself. */
function otherPlaces({ judge, shortTime }: Exploration, { judged, drumHz }: Reading): Reading[] {
  const { odds } = judged.joint;
  const taken = [drumHz];
  const out: Reading[] = [];
  const peaks = [...odds.keys()]
    .filter((i) => odds[i]! >= (odds[i - 1] ?? Infinity) && odds[i]! > (odds[i + 1] ?? Infinity))
    .sort((a, b) => odds[b]! - odds[a]!);
  for (const place of peaks) {
    const hz = scanHz(judged.joint, place);
    if (taken.some((other) => Math.abs(Math.log(hz / other)) < APART)) continue;
    taken.push(hz);
    out.push(readingAt(judge, shortTime, judged, place));
    if (out.length === SECOND_PLACES) break;
  }
  return out;
}

/** A rival this far behind, nats, is not worth a closer look. */
const CLOSE = 4;

/**
 * Probability that a clip's speed is about that of a reading, against all other speeds at which it may be
 * read: one share for each, from its likeliest reading.
 *
 * Courses as they were found are rough, so that two of one drum may lie further apart than two speeds do. Rivals
 * that come close are therefore followed as closely as the reading itself before they are compared.
 *
 * @param finer the reading, followed more closely
 * @param follow follows another reading as closely
 */
export function beliefIn(
  found: Exploration,
  chosen: Reading,
  finer: Reading,
  follow: (reading: Reading) => Reading,
): number {
  const { readings } = found;
  const alike = readings.filter((one) => !differ(chosen, one));
  const own = Math.max(chosen.odds, ...alike.map(({ odds }) => odds));
  const others = [...readings, ...otherPlaces(found, chosen)]
    .filter((one) => differ(chosen, one))
    .sort((a, b) => b.odds - a.odds);
  const modes: Reading[] = [];
  for (const one of others) if (modes.every((mode) => differ(mode, one))) modes.push(one);
  const close = modes.filter(({ odds }) => odds > own - CLOSE).map(follow);
  const others2 = close.filter((one) => differ(finer, one));
  const ownFiner = Math.max(
    finer.odds,
    ...close.filter((one) => !differ(finer, one)).map(({ odds }) => odds),
  );
  const share = (odds: number): number => Math.exp(odds / TEMPERATURE);
  const rest =
    modes
      .filter(({ odds }) => odds <= own - CLOSE)
      .reduce((sum, { odds }) => sum + share(odds - own), 0) +
    others2.reduce((sum, { odds }) => sum + share(odds - ownFiner), 0);
  return 1 / (1 + rest);
}
