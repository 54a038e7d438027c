import { clamp } from "../../foundation/statistics.js";
import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";

/** What the log-odds are put together from; null where the clip cannot show it. */
export interface MachineSigns {
  readonly "loudness-steadiness": Measurement;
  readonly "tone-share": Measurement;
  readonly "low-band-share": Measurement;
  readonly "squeal-swing": Measurement;
}

const LARGEST_LOG_ODDS = 4;
/** Clips shorter than this show little of a machine's patience, seconds. */
const FULL_TRUST_SECONDS = 15;

/** The share of the way from `none` to `full` at which a value lies, 0 to 1. */
const ramp = (value: number | null, none: number, full: number): number =>
  value === null ? 0 : clamp((value - none) / (full - none), 0, 1);

/**
 * Log-odds that a rotating or mains-driven appliance is heard rather than speech, animals, weather, music
 * or traffic. Starts from 0 and adds at most:
 *
 * +2 for a mains comb (5 to 10 dB), +1.5 for a drum speed, +1 for a level that stays within a few dB, +0.5
 * for low-pitched power; -0.5 each for no comb and no speed, -2 for a level that comes and goes over
 * 8-20 dB, -1 for sound that is mostly moving tones, -1 for almost no low pitch, -1.5 for loud tones that
 * come and go without a comb, -2 for speech, -1 for silence. Clamped to ±4. Weights are common sense,
 * not fitted to recordings.
 */
export function observeMachine(context: ListeningContext, signs: MachineSigns): Measurement {
  const steadiness = signs["loudness-steadiness"].value;
  if (steadiness === null) return missing("short");
  const { lineCombDb, drumRpm } = context.speed;
  const { speechShare, silentShare } = context.recording.quality;
  const comb = lineCombDb === null ? 0 : ramp(lineCombDb, 5, 10);
  const low = signs["low-band-share"].value;
  const turning = drumRpm === null ? -0.5 : 1.5;
  // A wash stops and goes: with a comb or a drum heard, pauses say little against a machine.
  const patience = comb > 0.5 || drumRpm !== null ? 0.5 : 1;
  const logOdds =
    (comb > 0 ? 2 * comb : -0.5) +
    turning +
    ramp(-steadiness, -8, -3) -
    2 * patience * ramp(steadiness, 8, 20) -
    ramp(signs["tone-share"].value, 0.35, 0.6) -
    1.5 * (1 - comb) * ramp(signs["squeal-swing"].value, 12, 25) * ramp(steadiness, 4, 10) +
    (low === null ? 0 : 0.5 * ramp(low, 0.3, 0.7) - ramp(-low, -0.15, -0.05)) -
    2 * ramp(speechShare, 0.1, 0.7) -
    ramp(silentShare, 0.4, 0.9);
  const trust = ramp(context.recording.durationSeconds, 0, FULL_TRUST_SECONDS);
  return measured(clamp(logOdds, -LARGEST_LOG_ODDS, LARGEST_LOG_ODDS), 0.8 * trust);
}
