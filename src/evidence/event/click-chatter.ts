import type { ListeningContext } from "../context.js";
import { mayTumble, TUMBLE_KNOCKS_HZ } from "./tumble-knocks.js";
import type { ImpactEvent, Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { findStrokes } from "../stroke/find-strokes.js";
import { clicksAlike } from "./clicks-alike.js";
import { drumHzAt, isClick, isShaftRate } from "./clicks.js";
import { bestBeat, firstOfEach, type Beat } from "./even-beat.js";
import { eventTrust } from "./trust.js";

const LOWEST_HZ = 1;
/** Slower clocks are looked for as well, so that their multiples are not taken for chatter. */
const RATES_HZ = [0.5, 10] as const;
const WINDOW_SECONDS = 6;
const FEWEST = 6;

function speedIsSure({ speed }: ListeningContext): boolean {
  if (speed.movement === "still") return true;
  return speed.drumRpm !== null && !speed.notes.includes("octave-ambiguous");
}

/**
 * Clicks repeated evenly 1-10 times a second that belong to no shaft: p-value of
 * Rayleigh's test in windows of 6 s, multiplied by the rates and windows tried. 1 when there are too
 * few clicks to repeat. Where the drum's speed is not known for sure, quality is halved: a slow drum
 * clicks too. Missing ("phase") while an agitator works.
 */
export function clickChatter(
  context: ListeningContext,
  impacts: readonly ImpactEvent[],
): Measurement {
  const seconds = context.recording.durationSeconds;
  if (seconds < 3) return missing("short");
  if (context.recording.bandHz[1] < 2000) return missing("band");
  // Among strokes, dogs, ratchets and clacks click as evenly as a relay: there is no telling them apart.
  if (findStrokes(context)?.kind === "agitation") return missing("phase");
  const clicks = firstOfEach(clicksAlike(impacts.filter(isClick))).map((c) => c.timeSeconds);
  let best: Beat = { rateHz: 0, p: 1, count: 0, atSeconds: 0 };
  let windows = 0;
  // A tumbling drum whose speed was not found knocks as evenly as a slow relay.
  const mayBeDrum = mayTumble(context) && !speedIsSure(context);
  const lowestHz = mayBeDrum ? TUMBLE_KNOCKS_HZ[1] : LOWEST_HZ;
  for (let from = 0; from < seconds; from += WINDOW_SECONDS / 2) {
    const times = clicks.filter((time) => time >= from && time < from + WINDOW_SECONDS);
    windows++;
    if (times.length < FEWEST) continue;
    const drumHz = drumHzAt(context, from + WINDOW_SECONDS / 2);
    const blur = 1.5 / Math.max(1, times[times.length - 1]! - times[0]!);
    const beat = bestBeat(times, RATES_HZ);
    if (beat.rateHz < lowestHz || isShaftRate(beat.rateHz, drumHz, blur)) continue;
    if (beat.p < best.p) best = beat;
  }
  const quality = eventTrust(context) * (speedIsSure(context) ? 0.9 : 0.45);
  return measured(Math.max(1e-12, Math.min(1, best.p * Math.max(1, windows / 2))), quality, {
    clicks: best.count,
    hz: best.rateHz,
    atSeconds: best.atSeconds,
  });
}
