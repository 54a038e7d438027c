import type { ListeningContext } from "../context.js";
import type { ImpactEvent, Measurement } from "../evidence.js";
import { createRandom } from "../../foundation/random.js";
import { quantile } from "../../foundation/statistics.js";
import { measured, missing } from "../measurement.js";
import { findStrokes } from "../stroke/find-strokes.js";
import { clicksAlike } from "./clicks-alike.js";
import { drumHzAt, isClick, isShaftRate } from "./clicks.js";
import { eventTrust } from "./trust.js";

/** Retries of an actuator are 1-5 s apart (trade reference §3.2, shift-actuator). */
const SHORTEST_GAP = 1;
const LONGEST_GAP = 5;
/** How far a gap may depart from the series' own typical gap. */
const GAP_SPREAD = 0.2;
const CHANCE_TRIALS = 60;

interface Series {
  readonly times: readonly number[];
  readonly gapSeconds: number;
}

const NONE: Series = { times: [], gapSeconds: 0 };

/** Longest run of clicks at nearly even gaps of 1-5 s; clicks between are passed over. */
export function longestSeries(times: readonly number[]): Series {
  let best = NONE;
  for (let i = 0; i < times.length; i++) {
    for (let j = i + 1; j < times.length; j++) {
      const gap = times[j]! - times[i]!;
      if (gap < SHORTEST_GAP) continue;
      if (gap > LONGEST_GAP) break;
      const run = [times[i]!, times[j]!];
      for (let k = j + 1; k < times.length; k++) {
        const step = times[k]! - run[run.length - 1]!;
        if (step > gap * (1 + GAP_SPREAD)) break;
        if (Math.abs(step / gap - 1) <= GAP_SPREAD) run.push(times[k]!);
      }
      if (run.length > best.times.length) best = { times: run, gapSeconds: gap };
    }
  }
  return best;
}

// As many clicks thrown anywhere into the clip: how long a run do they make by chance?
function chanceLength(count: number, seconds: number): number {
  const random = createRandom(20_011);
  const lengths: number[] = [];
  for (let trial = 0; trial < CHANCE_TRIALS; trial++) {
    const times = Array.from({ length: count }, () => random.between(0, seconds));
    lengths.push(longestSeries(times.sort((a, b) => a - b)).times.length);
  }
  return Math.max(2, quantile(lengths, 0.9));
}

// Clicks within 0.5 s are one action (click and echo, double knock): the first stands for all.
function actions(clicks: readonly ImpactEvent[]): number[] {
  const times: number[] = [];
  for (const { timeSeconds } of clicks) {
    if (times.length === 0 || timeSeconds - times[times.length - 1]! > 0.5) times.push(timeSeconds);
  }
  return times;
}

// Retries stand in quiet or hum: click and release, and little else between. 1 when that is so.
function apartness(series: Series, impacts: readonly ImpactEvent[]): number {
  const first = series.times[0]! - 0.1;
  const last = series.times[series.times.length - 1]! + 0.1;
  const inside = impacts.filter(({ timeSeconds }) => timeSeconds >= first && timeSeconds <= last);
  return Math.min(1, (2 * series.times.length) / Math.max(1, inside.length));
}

/**
 * Clicks 1-5 s apart, as an actuator's retries: length of the longest even run over the length that
 * nine in ten runs of as many random clicks stay below, less what other blows between take from it (two
 * blows per retry are free). At or under 1: no series. A single
 * click-buzz-click is no series. Strokes and turns of the drum at the same spacing are left out.
 */
export function clickSeries(
  context: ListeningContext,
  impacts: readonly ImpactEvent[],
): Measurement {
  const seconds = context.recording.durationSeconds;
  if (seconds < 6) return missing("short");
  if (context.recording.bandHz[1] < 2000) return missing("band");
  const times = actions(clicksAlike(impacts.filter(isClick)));
  const quality = eventTrust(context);
  if (times.length < 3 || times.length > 60) {
    return measured(0, quality * (times.length > 60 ? 0.5 : 0.9), { clicks: times.length });
  }
  const series = longestSeries(times);
  const pattern = findStrokes(context);
  const strokesPerGap = pattern === null ? 0 : series.gapSeconds / pattern.periodSeconds;
  const ofStrokes =
    strokesPerGap > 0.5 && Math.abs(strokesPerGap - Math.round(strokesPerGap)) < 0.15;
  const turning = series.times.filter((time) => drumHzAt(context, time) !== null).length;
  const drumHz = series.times.length > 0 ? drumHzAt(context, series.times[0]!) : null;
  const ofDrum = isShaftRate(1 / Math.max(0.01, series.gapSeconds), drumHz);
  if (series.times.length < 3 || ofStrokes || ofDrum)
    return measured(0, quality * 0.8, { clicks: times.length });
  const still = 1 - turning / series.times.length;
  const ratio = series.times.length / chanceLength(times.length, seconds);
  return measured(ratio * apartness(series, impacts), quality * (0.4 + 0.6 * still), {
    clicks: series.times.length,
    gapSeconds: series.gapSeconds,
  });
}
