import { differ } from "./alternative.js";
import { scanHz } from "./family-scan.js";
import type { Exploration } from "./exploration.js";
import { followedReading } from "./finer-reading.js";
import { mayBeDrum } from "./is-heard.js";
import { readingAt, type Reading } from "./reading.js";

// Lines of one clip share their noise and their cause, so that odds summed over them claim too much. Likeliest
// divisor for the true speed among all, on 56 spins and run-downs of the third generator: 1.0 to 1.3 fit about alike.
const TEMPERATURE = 1.3;
const APART = 0.05;
const SECOND_PLACES = 3;
/** A rival this far behind, nats, is not worth a closer look. */
const CLOSE = 4;

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

/** A reading as it was found, and the same followed more closely. */
export interface FollowedReading {
  readonly found: Reading;
  readonly finer: Reading;
}

/** Of the readings that are of another speed than the chosen one, the likeliest of each speed. */
function rivalsOf(chosen: Reading, readings: readonly Reading[]): Reading[] {
  const others = readings.filter((one) => differ(chosen, one)).sort((a, b) => b.odds - a.odds);
  const rivals: Reading[] = [];
  for (const one of others) if (rivals.every((rival) => differ(rival, one))) rivals.push(one);
  return rivals;
}

const most = (readings: readonly Reading[]): number =>
  Math.max(...readings.map(({ odds }) => odds));

/**
 * Probability that a clip's speed is about that of a reading, against all other speeds at which it may be
 * read: one share for each, from its likeliest reading.
 *
 * Courses as they are found are rough, so that two of one drum may lie further apart than two speeds do. Rivals
 * that come close are therefore followed as closely as the reading itself before they are compared; by the
 * modulation alone, since tones move a course by a thousandth, which is nothing between two speeds.
 *
 * @param heard the turn of the reading is heard, so that a rival must show one, too; what is faint stands only
 * where nothing else comes near
 */
export function beliefIn(
  exploration: Exploration,
  { found, finer }: FollowedReading,
  heard: boolean,
): number {
  const own = most([found, ...exploration.readings.filter((one) => !differ(found, one))]);
  const rivals = rivalsOf(found, [...exploration.readings, ...otherPlaces(exploration, found)]);
  const followed = rivals
    .filter(({ odds }) => odds > own - CLOSE)
    .map((one) => followedReading(exploration, one))
    .filter((one) => !heard || mayBeDrum(exploration.judge, one));
  const ownFiner = most([finer, ...followed.filter((one) => !differ(finer, one))]);
  const behind = [
    ...rivals.filter(({ odds }) => odds <= own - CLOSE).map(({ odds }) => own - odds),
    ...rivalsOf(finer, followed).map(({ odds }) => ownFiner - odds),
  ];
  return 1 / (1 + behind.reduce((sum, nats) => sum + Math.exp(-nats / TEMPERATURE), 0));
}
