import { median, quantile } from "../../foundation/statistics.js";
import type { ListeningContext } from "../context.js";
import type { Measurement, MissingReason } from "../evidence.js";
import type { FeatureId } from "../features.data.js";
import { measured, missing } from "../measurement.js";
import { findRidges } from "./ridges.js";
import type { SoundFrames } from "./sound-frames.js";
import { findSqueals, runsDown, type Squeal } from "./squeal-ridges.js";
import { gatedOncePerTurn, nearReversals, shareAtSlowing, shareAtStart } from "./squeal-timing.js";

type SquealId = Extract<FeatureId, `squeal-${string}`>;

/** A squeal counts from this height on, dB. */
const SQUEAL_DB = 12;
/** Time in which a level must be exceeded, in seconds or as a share of a short clip. */
const LEAST_SECONDS = 1;
const LEAST_SHARE = 0.1;
/** Heights up to here are no ridge. */
const NO_RIDGE_DB = 8;
const FIXED_SPREAD = 0.03;
const FIXED_EXPONENT = 0.35;

const isFixed = ({ followsSpeed, spread }: Squeal): boolean =>
  followsSpeed === null ? spread < FIXED_SPREAD : Math.abs(followsSpeed) < FIXED_EXPONENT;

const seconds = (squeals: readonly Squeal[]): number =>
  squeals.reduce((sum, { startSeconds, endSeconds }) => sum + endSeconds - startSeconds, 0);

/** Per frame the highest squeal, dB; where none sounds, at most what is no ridge yet. */
function squealLevel(squeals: readonly Squeal[], highestDb: Float64Array): number[] {
  const level = Float64Array.from(highestDb, (db) => Math.min(db, NO_RIDGE_DB));
  for (const { ridge } of squeals) {
    for (const { frame, db } of ridge.points) level[frame] = Math.max(level[frame]!, db);
  }
  return Array.from(level).filter((db) => !Number.isNaN(db));
}

const SQUEAL_IDS = [
  "squeal-prominence",
  "squeal-swing",
  "squeal-fixed-pitch",
  "squeal-at-start",
  "squeal-at-slowing",
  "squeal-once-per-turn",
  "squeal-at-reversal",
] as const satisfies readonly SquealId[];

const allMissing = (reason: MissingReason): Record<SquealId, Measurement> =>
  Object.fromEntries(SQUEAL_IDS.map((id) => [id, missing(reason)])) as Record<
    SquealId,
    Measurement
  >;

/**
 * Squeals: narrow lines above 300 Hz that start and stop and do not follow the drum's speed.
 *
 * `squeal-prominence` is the height over the surroundings that the strongest one exceeds for 1 s in all
 * (a tenth of a clip under 10 s), `squeal-swing` that height less the 10 % quantile over time (less what is
 * no ridge, in a run-down). The
 * other rows say when the squealing happens; they are missing ("no-events") without squealing.
 */
export function observeSqueal(
  context: ListeningContext,
  short: SoundFrames,
): Record<SquealId, Measurement> {
  if (context.recording.bandHz[1] < 2000) return allMissing("band");
  const map = findRidges(context, short, runsDown(context));
  const heard = findSqueals(context, short, map).filter(
    ({ ridge }) => median(ridge.points.map(({ db }) => db)) >= SQUEAL_DB,
  );
  const level = squealLevel(heard, map.highestDb);
  if (level.length < 20) return allMissing("short");
  const clipSeconds = level.length * short.power.hopSeconds;
  const share = Math.min(LEAST_SHARE, LEAST_SECONDS / clipSeconds);
  const prominence = quantile(level, 1 - share);
  // A pitch that stays while the drum runs down needs no pause to be told from a motor's.
  const low = quantile(level, 0.1);
  const swing = prominence - (runsDown(context) ? Math.min(low, NO_RIDGE_DB) : low);
  // What suppression of steady sound leaves behind is made of short tones.
  const { voiceCodec, noiseSuppressed } = context.recording.quality;
  const trust = (voiceCodec ? 0.6 : 1) * (noiseSuppressed ? 0.5 : 1);
  const total = seconds(heard);
  const strongest = [...heard].sort((a, b) => seconds([b]) - seconds([a]))[0];
  const detail = strongest ? { hz: strongest.pitchHz, seconds: total } : undefined;
  const known = { prominence: measured(prominence, trust, detail), swing: measured(swing, trust) };
  if (total < 0.3) {
    return {
      ...allMissing("no-events"),
      "squeal-prominence": known.prominence,
      "squeal-swing": known.swing,
    };
  }
  const sure = Math.min(1, total / 2) * trust;
  return {
    "squeal-prominence": known.prominence,
    "squeal-swing": known.swing,
    "squeal-fixed-pitch": measured(seconds(heard.filter(isFixed)) / total, sure),
    "squeal-at-start": shareAtStart(context, heard, sure),
    "squeal-at-slowing": shareAtSlowing(context, heard, sure),
    "squeal-once-per-turn": gatedOncePerTurn(context, heard),
    "squeal-at-reversal": nearReversals(context, heard),
  };
}
