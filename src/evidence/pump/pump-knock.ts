import type { ListeningContext } from "../context.js";
import type { ImpactEvent, Measurement } from "../evidence.js";
import { drumHzAt } from "../event/clicks.js";
import { FRAME_RATE_HZ, soundFrames } from "../event/sound-frames.js";
import { eventTrust } from "../event/trust.js";
import { mean, median, variance } from "../../foundation/statistics.js";
import { measured, missing } from "../measurement.js";
import { mainsPresence, turningShare } from "./mains-presence.js";

/** A pump's start makes two knocks (lost motion of the impeller); they are not debris. */
const START_SECONDS = 0.8;
const FEWEST = 5;

/** Spread of the gaps over their mean: 1 for random blows, near 0 for even ones. */
export function irregularity(times: readonly number[]): number {
  const gaps = times.slice(1).map((time, i) => time - times[i]!);
  return gaps.length < 3 ? 0 : Math.sqrt(variance(gaps)) / mean(gaps);
}

// Energy of the knocks over that of all the rest in 0.5-7.5 kHz, each octave counting alike.
function energyRatio(context: ListeningContext, knocks: readonly ImpactEvent[]): number {
  const octaves = soundFrames(context).octaves.filter(({ centreHz }) => centreHz > 500);
  let ratio = 0;
  for (const { power } of octaves) {
    const background = median(power);
    let excess = 0;
    for (const knock of knocks) {
      const at = Math.floor(knock.timeSeconds * FRAME_RATE_HZ);
      for (let i = Math.max(0, at - 1); i < Math.min(power.length, at + 8); i++) {
        excess += Math.max(0, power[i]! - background);
      }
    }
    ratio += excess / (background * power.length + 1e-14) / octaves.length;
  }
  return ratio;
}

/**
 * Irregular hard knocks while the mains hums and no shaft turns: energy of the knocks over that of the
 * rest (0.5-7.5 kHz), times how irregular they are (full from a gap spread of 0.5, none at 0.1).
 * 0 without knocks. The knocks of the first 0.8 s are the pump's start. Missing ("mains") without hum.
 */
export function pumpKnock(context: ListeningContext, impacts: readonly ImpactEvent[]): Measurement {
  const mains = mainsPresence(context);
  if (context.recording.durationSeconds < 4) return missing("short");
  if (mains < 0.2) return missing("mains");
  if (context.toldPhase === "coast" || context.toldPhase === "hand-spin") return missing("phase");
  const knocks = impacts.filter(
    ({ timeSeconds, centreHz }) =>
      timeSeconds > START_SECONDS && centreHz > 400 && drumHzAt(context, timeSeconds) === null,
  );
  const turning = turningShare(context);
  if (turning > 0.7) return missing("phase");
  const quality =
    eventTrust(context) * mains * (1 - turning) * (context.toldPhase === "drain" ? 1 : 0.8);
  if (knocks.length < FEWEST) return measured(0, quality, { knocks: knocks.length });
  const spread = irregularity(knocks.map((knock) => knock.timeSeconds));
  const irregular = Math.min(1, Math.max(0, (spread - 0.1) / 0.4));
  return measured(energyRatio(context, knocks) * irregular, quality, {
    knocks: knocks.length,
    perSecond: knocks.length / context.recording.durationSeconds,
    irregularity: spread,
    riseDb: median(knocks.map((knock) => knock.riseDb)),
  });
}
