import type { Truth } from "../../src/evaluation/truth.js";
import type { Course } from "./course.js";

/** Longest steady part counts from this many seconds on. */
const STEADY_SECONDS = 3;
const STEADY_PART = 0.01;
const TRACK_STEP_SECONDS = 0.1;

/** Speed row of the truth: the longest stretch within +-1 %, if it lasts 3 s, else the median while turning. */
export function speedTruth(course: Course, rate: number): NonNullable<Truth["drumRpm"]> {
  const track: { timeSeconds: number; rpm: number | null }[] = [];
  for (let t = 0; t * rate < course.drumHz.length; t += TRACK_STEP_SECONDS) {
    const rpm = course.drumHz[Math.floor(t * rate)]! * 60;
    track.push({
      timeSeconds: Math.round(t * 1000) / 1000,
      rpm: rpm > 1 ? Math.round(rpm * 100) / 100 : null,
    });
  }
  const speeds = track.map(({ rpm }) => rpm);
  const turning = speeds.filter((rpm): rpm is number => rpm !== null).sort((a, b) => a - b);
  if (turning.length === 0) return { typical: null, track };
  const steady = course.plateauRpm ?? steadySpeed(speeds);
  return {
    typical: Math.round((steady ?? turning[Math.floor(turning.length / 2)]!) * 10) / 10,
    track,
  };
}

function steadySpeed(speeds: readonly (number | null)[]): number | null {
  let best = { length: 0, mean: 0 };
  for (let from = 0; from < speeds.length; from++) {
    let [low, high, sum, k] = [Infinity, 0, 0, from];
    for (; k < speeds.length; k++) {
      const rpm = speeds[k];
      if (rpm === null || rpm === undefined) break;
      low = Math.min(low, rpm);
      high = Math.max(high, rpm);
      if (high > low * (1 + 2 * STEADY_PART)) break;
      sum += rpm;
    }
    if (k - from > best.length) best = { length: k - from, mean: sum / (k - from) };
  }
  return best.length * TRACK_STEP_SECONDS >= STEADY_SECONDS ? best.mean : null;
}
