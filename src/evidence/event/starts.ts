import type { ListeningContext } from "../context.js";
import type { Seconds } from "../../foundation/units.js";
import { median } from "../../foundation/statistics.js";
import { startReadBack } from "../character/speed-course.js";
import { findStrokes } from "../stroke/find-strokes.js";
import { loudnessTrack, TRACK_RATE_HZ } from "../stroke/loudness-track.js";

const MOST = 6;
const LEAST_RISE_DB = 4;
/** Below this the drum has only begun to turn. */
const FIRST_RPM = 90;

// Level of 1 s after each moment less that of 1 s before it.
function rises(levelDb: Float64Array): Float64Array {
  const sums = new Float64Array(levelDb.length + 1);
  for (let i = 0; i < levelDb.length; i++) sums[i + 1] = sums[i]! + levelDb[i]!;
  const second = TRACK_RATE_HZ;
  const out = new Float64Array(levelDb.length);
  for (let i = second; i + second < levelDb.length; i++) {
    out[i] = (sums[i + second]! - 2 * sums[i]! + sums[i - second]!) / second;
  }
  return out;
}

function loudnessStarts(context: ListeningContext): Seconds[] {
  const { levelDb, jitterDb, excluded } = loudnessTrack(context);
  const rise = rises(levelDb);
  const needed = Math.max(LEAST_RISE_DB, 4 * jitterDb);
  const starts: Seconds[] = [];
  for (let i = 0; i < rise.length; i++) {
    if (rise[i]! < needed || excluded[i]) continue;
    // The steepest moment within a second either way stands for the start.
    const around = rise.subarray(Math.max(0, i - 50), i + 51);
    if (!around.every((v) => v <= rise[i]!)) continue;
    // Medians: a bang lifts the mean of a second, but only a start lifts its middle.
    const before = median(levelDb.subarray(Math.max(0, i - 75), i));
    const after = median(levelDb.subarray(i + 15, i + 115));
    if (after - before >= needed) starts.push(i / TRACK_RATE_HZ);
  }
  return starts;
}

function speedStarts(context: ListeningContext): Seconds[] {
  const { track } = context.speed;
  const starts: Seconds[] = [];
  for (let i = 1; i < track.length; i++) {
    const rpm = track[i]!.drumRpm;
    const earlier = track.slice(Math.max(0, i - 4), i);
    const stood = earlier.every((point) => point.drumRpm === null || point.drumRpm < 5);
    if (rpm !== null && rpm >= 5 && rpm < FIRST_RPM && stood) starts.push(track[i]!.timeSeconds);
  }
  return starts;
}

/**
 * Moments at which the drum begins to be driven, as far as the clip shows them: steps up of the
 * loudness by 4 dB or more, the speed track's first points after standstill, and a run-up read back to rest. At most six, in order
 * of time; none in agitation, whose strokes are looked at elsewhere.
 */
export function findStarts(context: ListeningContext): Seconds[] {
  if (findStrokes(context)?.kind === "agitation") return [];
  const all = [
    ...loudnessStarts(context),
    ...speedStarts(context),
    ...startReadBack(context.speed),
  ].sort((a, b) => a - b);
  const apart: Seconds[] = [];
  for (const start of all) {
    if (apart.length === 0 || start - apart[apart.length - 1]! > 2) apart.push(start);
  }
  return apart.slice(0, MOST);
}
