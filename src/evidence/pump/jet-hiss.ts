import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import { clamp, quantile } from "../../foundation/statistics.js";
import { welch } from "../../signal/spectrum.js";
import { runningMedian } from "../../signal/running-median.js";
import { soundFrames } from "../event/sound-frames.js";
import { measured, missing } from "../measurement.js";
import { slowModulation } from "./slow-modulation.js";

/** Frames of 0.2 s: long enough for noise to be even. */
const BLOCK = 50;
const MOST_SECONDS = 20;

/** Level that the octaves above 1 kHz never fall below, over their mean power: 1 for steady sound. */
function steadyShare(context: ListeningContext): number {
  const frames = soundFrames(context);
  let share = 0;
  let used = 0;
  for (const { power, centreHz } of frames.octaves) {
    if (centreHz < 1000) continue;
    const blocks: number[] = [];
    for (let at = 0; at + BLOCK <= power.length; at += BLOCK) {
      if (frames.excluded[at]) continue;
      let sum = 0;
      for (let i = 0; i < BLOCK; i++) sum += power[at + i]!;
      blocks.push(sum / BLOCK);
    }
    if (blocks.length < 10) continue;
    const all = blocks.reduce((sum, v) => sum + v, 0) / blocks.length;
    share += Math.min(1, quantile(blocks, 0.1) / (all + 1e-14));
    used++;
  }
  return used === 0 ? 0 : share / used;
}

/** Power of 1-7.5 kHz that is noise rather than lines, over all power of 90-7500 Hz. */
function noiseShare(context: ListeningContext): number {
  const { sound, soundRateHz } = context;
  const n = Math.min(sound.length, MOST_SECONDS * soundRateHz);
  const start = (sound.length - n) >> 1;
  const { values, binHz } = welch(sound.subarray(start, start + n), soundRateHz, {
    segmentLength: 2048,
    overlap: 0,
  });
  const floor = runningMedian(values, 12);
  const top = Math.min(7500, context.recording.bandHz[1]);
  let noise = 0;
  let total = 0;
  for (let k = Math.round(90 / binHz); k <= top / binHz; k++) {
    total += values[k]!;
    if (k * binHz >= 1000) noise += Math.min(values[k]!, 1.5 * floor[k]!);
  }
  return total > 0 ? noise / total : 0;
}

/**
 * Steady hiss as of water through a valve: share of the clip's power that is noise of 1-7.5 kHz, times how
 * steady it is and how free of modulation at 2-20 Hz (none left at an index of 0.4). The microphone's
 * colouring moves the share, so only values near 0 and near 1 say much. 0 to 1.
 */
export function jetHiss(context: ListeningContext): Measurement {
  if (context.recording.bandHz[1] < 3500) return missing("band");
  if (context.recording.quality.noiseSuppressed) return missing("noise-suppressed");
  const modulation = slowModulation(context);
  if (!modulation) return missing("short");
  const even = clamp(1 - modulation.total / 0.4, 0, 1);
  const share = noiseShare(context);
  const steady = steadyShare(context);
  const trust = context.recording.quality.voiceCodec ? 0.4 : 0.7;
  return measured(clamp(share * steady * even, 0, 1), trust, { noiseShare: share, steady });
}
