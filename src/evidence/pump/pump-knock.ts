import type { ListeningContext } from "../context.js";
import type { ImpactEvent, Measurement } from "../evidence.js";
import { drumHzAt } from "../event/clicks.js";
import { FRAME_RATE_HZ, soundFrames } from "../event/sound-frames.js";
import { eventTrust } from "../event/trust.js";
import { median, robustDeviation } from "../../foundation/statistics.js";
import type { Phase } from "../../machine/words.js";
import { findStrokes } from "../stroke/find-strokes.js";
import { measured, missing } from "../measurement.js";
import { mainsPresence, turningShare } from "./mains-presence.js";

/** A pump's start makes two knocks (lost motion of the impeller); they are not debris. */
const START_SECONDS = 0.8;
const FEWEST = 5;
/** Trust that the drum stands where nothing shows it. */
const UNSURE_STANDING = 0.35;
/** In which told phases a knock can be the pump's: it runs in the drain and beside the spin. */
const TOLD_TRUST = {
  drain: 1,
  unknown: 0.7,
  spin: 0.4,
  fill: 0.15,
  wash: 0.15,
  coast: 0,
  "hand-spin": 0,
} as const satisfies Record<Phase, number>;

/**
 * Robust spread of the gaps over their median: near 1 for random blows, near 0 for even ones even when
 * some of them were not heard. Of exponential gaps of mean 1: 1.4826 × 0.481 / 0.693 = 1.03.
 */
export function irregularity(times: readonly number[]): number {
  const gaps = times.slice(1).map((time, i) => time - times[i]!);
  return gaps.length < 3 ? 0 : robustDeviation(gaps) / Math.max(1e-3, median(gaps));
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

// A stone strikes within a frame; a bubble's burst swells over several. Share of blows that strike.
function hardShare(context: ListeningContext, knocks: readonly ImpactEvent[]): number {
  const octaves = soundFrames(context).octaves.filter(({ centreHz }) => centreHz > 500);
  let hard = 0;
  for (const { timeSeconds, riseDb } of knocks) {
    const at = Math.floor(timeSeconds * FRAME_RATE_HZ);
    let earlier = 0;
    let peak = 0;
    for (const { power, before } of octaves) {
      const background = before[at]! + 1e-14;
      earlier += Math.max(0, power[Math.max(0, at - 2)]! / background - 1);
      peak += Math.max(0, Math.max(power[at]!, power[at + 1] ?? 0) / background - 1);
    }
    if (riseDb >= 8 && earlier < 0.2 * peak) hard++;
  }
  return hard / Math.max(1, knocks.length);
}

/**
 * Irregular hard knocks while the mains hums and no shaft turns: energy of the knocks over that of the
 * rest (0.5-7.5 kHz), times how irregular they are (full from a gap spread of 0.5, none at 0.1) and the share that
 * strikes rather than swells. 0 without knocks. The knocks of the first 0.8 s are the pump's start. Missing ("mains") without hum.
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
  const strokes = findStrokes(context)?.kind;
  if (strokes === "agitation" || turning > 0.7) return missing("phase");
  // A speed that is not heard is no drum that stands: only stillness, or a told drain, shows that.
  const shown = context.speed.movement === "still" || context.toldPhase === "drain";
  const standing = strokes === "cycles" || !shown ? UNSURE_STANDING : 1;
  const told = TOLD_TRUST[context.toldPhase];
  const quality = eventTrust(context) * mains * (1 - turning) * standing * told;
  if (knocks.length < FEWEST) return measured(0, quality, { knocks: knocks.length });
  const spread = irregularity(knocks.map((knock) => knock.timeSeconds));
  const irregular = Math.min(1, Math.max(0, (spread - 0.1) / 0.4));
  const hard = hardShare(context, knocks);
  return measured(energyRatio(context, knocks) * irregular * hard, quality, {
    knocks: knocks.length,
    hardShare: hard,
    perSecond: knocks.length / context.recording.durationSeconds,
    irregularity: spread,
    riseDb: median(knocks.map((knock) => knock.riseDb)),
  });
}
