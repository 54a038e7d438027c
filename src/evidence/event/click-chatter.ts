import type { ListeningContext } from "../context.js";
import type { ImpactEvent, Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { findStrokes } from "../stroke/find-strokes.js";
import { clicksAlike } from "./clicks-alike.js";
import { drumHzAt, isClick, isShaftRate } from "./clicks.js";
import { rayleighTail } from "./tails.js";
import { eventTrust } from "./trust.js";

const LOWEST_HZ = 1;
const HIGHEST_HZ = 10;
const WINDOW_SECONDS = 6;
const FEWEST = 6;
const ONE_EVENT_SECONDS = 0.06;

interface Beat {
  readonly rateHz: number;
  readonly p: number;
  readonly count: number;
  readonly atSeconds: number;
}

// Rayleigh's test at every rate of 1-10 Hz in one window; p is multiplied by the rates that differ.
function bestBeat(
  times: readonly number[],
  from: number,
  allowed: (rateHz: number) => boolean,
): Beat {
  const span = times[times.length - 1]! - times[0]!;
  const step = 0.2 / Math.max(1, span);
  let best = { rateHz: 0, p: 1 };
  for (let rate = LOWEST_HZ; rate <= HIGHEST_HZ; rate += step) {
    let re = 0;
    let im = 0;
    for (const time of times) {
      const angle = 2 * Math.PI * rate * (time - from);
      re += Math.cos(angle);
      im += Math.sin(angle);
    }
    const p = rayleighTail(times.length, Math.hypot(re, im) / times.length);
    if (p < best.p && allowed(rate)) best = { rateHz: rate, p };
  }
  const tried = Math.max(1, (HIGHEST_HZ - LOWEST_HZ) * span);
  return { ...best, p: Math.min(1, best.p * tried), count: times.length, atSeconds: from };
}

/**
 * A blow and its answer a few hundredths of a second later are one event: counted as two, pairs would
 * look like a rhythm. Chatter of 10 a second has 0.1 s between clicks.
 */
function firstOfEach(clicks: readonly ImpactEvent[]): ImpactEvent[] {
  const kept: ImpactEvent[] = [];
  for (const click of clicks) {
    const last = kept[kept.length - 1];
    if (!last || click.timeSeconds - last.timeSeconds > ONE_EVENT_SECONDS) kept.push(click);
  }
  return kept;
}

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
  for (let from = 0; from < seconds; from += WINDOW_SECONDS / 2) {
    const times = clicks.filter((time) => time >= from && time < from + WINDOW_SECONDS);
    windows++;
    if (times.length < FEWEST) continue;
    const drumHz = drumHzAt(context, from + WINDOW_SECONDS / 2);
    const blur = 1.5 / Math.max(1, times[times.length - 1]! - times[0]!);
    const beat = bestBeat(times, from, (rateHz) => !isShaftRate(rateHz, drumHz, blur));
    if (beat.p < best.p) best = beat;
  }
  const quality = eventTrust(context) * (speedIsSure(context) ? 0.9 : 0.45);
  return measured(Math.max(1e-12, Math.min(1, best.p * Math.max(1, windows / 2))), quality, {
    clicks: best.count,
    hz: best.rateHz,
    atSeconds: best.atSeconds,
  });
}
