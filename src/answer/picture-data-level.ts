import type { ListeningContext } from "../evidence/context.js";
import type { ImpactEvent } from "../evidence/evidence.js";
import type { SpeedPoint } from "../speed/speed-estimate.js";
import { butterworth, filterThrough } from "../signal/butterworth.js";
import type { LevelData, Stretch } from "./picture-data.js";

const MOST_POINTS = 600;
const LEAST_HOP_SECONDS = 0.1;
const LOW_HZ = 500;
const HIGH_HZ = 2000;

function levels(samples: Float64Array, hop: number): Float64Array {
  return Float64Array.from({ length: Math.floor(samples.length / hop) }, (_, i) => {
    let sum = 0;
    for (let j = i * hop; j < (i + 1) * hop; j++) sum += samples[j]! ** 2;
    return 10 * Math.log10(sum / hop + 1e-12);
  });
}

/** A drum whose speed changes by less than this share in a second is called steady. */
const STEADY_SHARE = 0.015;
const SPAN_SECONDS = 1.5;

function stateAt(track: readonly SpeedPoint[], i: number): Stretch["state"] {
  const here = track[i]!;
  if (here.drumRpm === null) return "speed not heard";
  const near = track.filter(
    ({ timeSeconds, drumRpm }) =>
      drumRpm !== null && Math.abs(timeSeconds - here.timeSeconds) <= SPAN_SECONDS,
  );
  const first = near[0]!;
  const last = near[near.length - 1]!;
  const seconds = last.timeSeconds - first.timeSeconds;
  if (seconds <= 0) return "steady";
  const slope = (last.drumRpm! - first.drumRpm!) / here.drumRpm / seconds;
  if (Math.abs(slope) < STEADY_SHARE) return "steady";
  return slope > 0 ? "speeding up" : "slowing down";
}

const SHORTEST_SECONDS = 1;

/** What the drum does over the clip, neighbouring points of the same state joined, short ones taken in. */
export function stretchesOf(track: readonly SpeedPoint[], seconds: number): Stretch[] {
  const joined: { fromSeconds: number; toSeconds: number; state: Stretch["state"] }[] = [];
  track.forEach(({ timeSeconds }, i) => {
    const state = stateAt(track, i);
    const before = joined[joined.length - 1];
    if (before?.state === state) before.toSeconds = timeSeconds;
    else {
      if (before) before.toSeconds = timeSeconds;
      joined.push({ fromSeconds: timeSeconds, toSeconds: timeSeconds, state });
    }
  });
  if (joined.length === 0) return [];
  joined[0]!.fromSeconds = 0;
  joined[joined.length - 1]!.toSeconds = seconds;
  const kept: typeof joined = [];
  for (const stretch of joined) {
    const before = kept[kept.length - 1];
    const short = stretch.toSeconds - stretch.fromSeconds < SHORTEST_SECONDS;
    if (before && (short || before.state === stretch.state)) before.toSeconds = stretch.toSeconds;
    else kept.push({ ...stretch });
  }
  return kept;
}

/** Shorter ones are the rounding of the last frame. */
const SHORTEST_UNUSED_SECONDS = 0.1;

function unusedOf(context: ListeningContext): LevelData["unused"] {
  const { usableMask, maskHopSeconds } = context;
  const out: { fromSeconds: number; toSeconds: number }[] = [];
  for (let i = 0; i < usableMask.length; i++) {
    if (usableMask[i] === 1) continue;
    const from = i * maskHopSeconds;
    const before = out[out.length - 1];
    if (before && from - before.toSeconds < 0.5 * maskHopSeconds)
      before.toSeconds = from + maskHopSeconds;
    else out.push({ fromSeconds: from, toSeconds: from + maskHopSeconds });
  }
  return out.filter(
    ({ fromSeconds, toSeconds }) => toSeconds - fromSeconds >= SHORTEST_UNUSED_SECONDS,
  );
}

/** Level over time, in all and in two bands, with what the drum does. */
export function levelData(context: ListeningContext, impacts: readonly ImpactEvent[]): LevelData {
  const { sound, soundRateHz } = context;
  const seconds = sound.length / soundRateHz;
  const hop = Math.round(soundRateHz * Math.max(LEAST_HOP_SECONDS, seconds / MOST_POINTS));
  const band = (kind: "low" | "high", hz: number): Float64Array =>
    levels(filterThrough(sound, butterworth(kind, 4, hz / soundRateHz)), hop);
  return {
    hopSeconds: hop / soundRateHz,
    wholeDb: levels(sound, hop),
    lowDb: band("low", LOW_HZ),
    highDb: band("high", HIGH_HZ),
    seconds,
    speed: context.speed.track.map(({ timeSeconds, drumRpm }) => ({
      seconds: timeSeconds,
      rpm: drumRpm,
    })),
    stretches: stretchesOf(context.speed.track, seconds),
    unused: unusedOf(context),
    impacts: impacts.map(({ timeSeconds }) => timeSeconds),
  };
}
