import type { Emissions } from "./emissions.js";
import { FRAME_SECONDS } from "./frame-times.js";
import { LOG_STEP } from "./log-grid.js";

/** Short-time scores of all speeds, kept to see where in the clip a reading holds. */
export interface ShortTime {
  readonly turns: Emissions;
  readonly tones: Emissions;
  readonly chirps: readonly number[];
}

function nearestChirp(chirps: readonly number[], rate: number): number {
  let best = 0;
  for (let c = 1; c < chirps.length; c++) {
    if (Math.abs(chirps[c]! - rate) < Math.abs(chirps[best]! - rate)) best = c;
  }
  return best;
}

function bestNear(emissions: Emissions, frame: number, chirp: number, lnHz: number): number {
  const { grid, chirpCount, values } = emissions;
  const cell = Math.round(lnHz / LOG_STEP) - grid.first;
  if (cell < 0 || cell >= grid.count) return 0;
  const base = (frame * chirpCount + chirp) * grid.count;
  let top = values[base + cell]!;
  if (cell > 0) top = Math.max(top, values[base + cell - 1]!);
  if (cell + 1 < grid.count) top = Math.max(top, values[base + cell + 1]!);
  return top - 0.5;
}

/**
 * Score of each frame for a reading: drum at `drumHz` and tones at `toneHz` times the course. Sum of the
 * two templates' scores at the nearest cell; about 0 ± 1.4 where nothing is heard.
 */
export function frameEvidence(
  shortTime: ShortTime,
  course: Float64Array,
  drumHz: number,
  toneHz: number | null,
): Float64Array {
  const n = course.length;
  return course.map((value, i) => {
    const before = course[Math.max(0, i - 1)]!;
    const after = course[Math.min(n - 1, i + 1)]!;
    const span = (Math.min(n - 1, i + 1) - Math.max(0, i - 1)) * FRAME_SECONDS;
    const chirp = nearestChirp(shortTime.chirps, span > 0 ? (after - before) / span : 0);
    const turns = bestNear(shortTime.turns, i, chirp, value + Math.log(drumHz));
    if (toneHz === null) return turns;
    return turns + bestNear(shortTime.tones, i, chirp, value + Math.log(toneHz));
  });
}
