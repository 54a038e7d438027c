import { median } from "../../foundation/statistics.js";
import type { ListeningContext } from "../context.js";
import type { ImpactEvent, Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { firstOfEach } from "./even-beat.js";
import { eventTrust } from "./trust.js";

const DULL_BELOW_HZ = 600;
const FEWEST = 4;
/** Blows further apart than this belong to different events. */
const LONGEST_GAP_SECONDS = 2.2;
/** Gaps of one rhythm, which may speed up or slow down, differ from the next by no more than this share. */
const EVEN_WITHIN = 0.35;

/**
 * How many dull blows a second come one after the other (median over neighbouring gaps). Needs no speed of the
 * drum: a tub that swings strikes while the drum passes 100 to 350 rpm, 2 to 6 times a second, and rests at
 * full speed. Trust falls with the share of gaps that do not follow the one before.
 */
export function thumpRate(context: ListeningContext, impacts: readonly ImpactEvent[]): Measurement {
  if (context.recording.bandHz[0] > 300) return missing("band");
  const dull = firstOfEach(impacts.filter(({ centreHz }) => centreHz < DULL_BELOW_HZ));
  const gaps = dull
    .slice(1)
    .map((blow, i) => blow.timeSeconds - dull[i]!.timeSeconds)
    .filter((gap) => gap < LONGEST_GAP_SECONDS);
  if (gaps.length < FEWEST) return missing("no-events");
  const even = gaps.slice(1).filter((gap, i) => Math.abs(Math.log(gap / gaps[i]!)) < EVEN_WITHIN);
  const share = even.length / (gaps.length - 1);
  return measured(1 / median(gaps), eventTrust(context) * share, { blows: dull.length });
}
