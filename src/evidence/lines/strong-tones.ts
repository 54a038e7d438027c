import { fitLine } from "../../foundation/statistics.js";
import { findPeaks } from "../../signal/peaks.js";
import { runningMedian } from "../../signal/running-median.js";
import { spectrogram, welch, type Spectrogram } from "../../signal/spectrum.js";
import type { ListeningContext } from "../context.js";
import type { Scaling, ToneFinding } from "../evidence.js";

const SEGMENT = 16_384;
const BACKGROUND_HZ = 40;
const LOWEST_DB = 9;
const MOST_TONES = 12;
/** A speed that moves less than this over the clip cannot tell a locked tone from a fixed one. */
const LEAST_SPAN = 0.03;
const MAINS_REACH_HZ = 1;

function speedSpan(context: ListeningContext): number {
  const span = context.speed.spanRpm;
  return span === null || span[0] <= 0 ? 0 : span[1] / span[0] - 1;
}

/** Slope of the tone's frequency against the drum's, both as logarithms: 1 locked, 0 fixed. */
function followingSlope(context: ListeningContext, frames: Spectrogram, hz: number): number | null {
  const x: number[] = [];
  const y: number[] = [];
  let last = hz;
  frames.frames.forEach((power, i) => {
    const seconds = i * frames.hopSeconds + frames.halfWindowSeconds;
    const rpm = context.speed.track[Math.round(seconds / context.speed.hopSeconds)]?.drumRpm;
    if (!rpm) return;
    const low = Math.max(1, Math.floor((last * 0.94) / frames.binHz));
    const high = Math.min(power.length - 1, Math.ceil((last * 1.06) / frames.binHz));
    let best = low;
    for (let k = low; k <= high; k++) if (power[k]! > power[best]!) best = k;
    last = best * frames.binHz;
    x.push(Math.log(rpm));
    y.push(Math.log(last));
  });
  return x.length < 6 ? null : fitLine(x, y).slope;
}

function scalingOf(context: ListeningContext, frames: Spectrogram, hz: number): Scaling {
  const { lineHz } = context.speed;
  if (lineHz !== null && Math.abs(hz - Math.round(hz / lineHz) * lineHz) < MAINS_REACH_HZ) {
    return "line-locked";
  }
  if (speedSpan(context) < LEAST_SPAN) return "undetermined";
  const slope = followingSlope(context, frames, hz);
  if (slope === null) return "undetermined";
  if (slope > 0.75 && slope < 1.25) return "speed-locked";
  return Math.abs(slope) < 0.25 ? "fixed" : "undetermined";
}

/** The strongest narrow lines of the clip's mean spectrum, and whether they follow the drum. */
export function strongTones(context: ListeningContext): ToneFinding[] {
  if (context.sound.length < SEGMENT) return [];
  const { values, binHz } = welch(context.sound, context.soundRateHz, { segmentLength: SEGMENT });
  const background = runningMedian(values, Math.round(BACKGROUND_HZ / binHz));
  const level = values.map((v, k) => 10 * Math.log10((v + 1e-30) / (background[k]! + 1e-30)));
  const frames = spectrogram(context.sound, context.soundRateHz, { length: 4096, hop: 4096 });
  const drumHz = context.speed.drumRpm === null ? null : context.speed.drumRpm.value / 60;
  return findPeaks(level, LOWEST_DB)
    .filter((peak) => peak.position * binHz > 60)
    .slice(0, MOST_TONES)
    .map((peak) => {
      const hz = peak.position * binHz;
      return {
        hz,
        drumOrder: drumHz === null ? null : hz / drumHz,
        prominenceDb: peak.value,
        scaling: scalingOf(context, frames, hz),
      };
    });
}
