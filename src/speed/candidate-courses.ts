import { bestPath, type Path } from "./best-path.js";
import type { Emissions } from "./emissions.js";
import { LOG_STEP } from "./log-grid.js";
import type { ToneSource } from "./tone-source.js";

/** ln of relative speed at the frame middles, mean 0. */
export type Course = Float64Array;

const SAME = 0.006;
const JOINT_RATIOS = 2;

function courseOf(path: Path): Course {
  const n = path.cells.length;
  let ln = Float64Array.from(path.cells, (cell) => cell * LOG_STEP);
  for (let pass = 0; pass < 2; pass++) {
    ln = ln.map((v, i) => (i === 0 || i === n - 1 ? v : (ln[i - 1]! + 2 * v + ln[i + 1]!) / 4));
  }
  return centred(ln);
}

/** Takes the mean off. */
export function centred(ln: Float64Array): Course {
  const mean = ln.reduce((sum, v) => sum + v, 0) / Math.max(1, ln.length);
  return ln.map((v) => v - mean);
}

/** Root mean square distance of two courses, nepers. */
export function courseDistance(a: Course, b: Course): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i]! - b[i]!) ** 2;
  return Math.sqrt(sum / a.length);
}

/** Adds the tone scores, shifted by a ratio, to the turn scores. */
function joined(turns: Emissions, tones: Emissions, shift: number): Emissions {
  const values = Float32Array.from(turns.values);
  const rows = turns.frameCount * turns.chirpCount;
  const offset = turns.grid.first + shift - tones.grid.first;
  const from = Math.max(0, -offset);
  const to = Math.min(turns.grid.count, tones.grid.count - offset);
  for (let r = 0; r < rows; r++) {
    const a = r * turns.grid.count;
    const b = r * tones.grid.count + offset;
    for (let i = from; i < to; i++) values[a + i]! += tones.values[b + i]!;
  }
  return { ...turns, values };
}

// Upper bound of a joint path's score: the best state of every frame, free to jump.
function jumpingScore(turns: Emissions, tones: Emissions, shift: number): number {
  const offset = turns.grid.first + shift - tones.grid.first;
  const from = Math.max(0, -offset);
  const to = Math.min(turns.grid.count, tones.grid.count - offset);
  let total = 0;
  for (let t = 0; t < turns.frameCount; t++) {
    let top = 0;
    for (let c = 0; c < turns.chirpCount; c++) {
      const a = (t * turns.chirpCount + c) * turns.grid.count;
      const b = (t * turns.chirpCount + c) * tones.grid.count + offset;
      for (let i = from; i < to; i++) {
        const value = turns.values[a + i]! + tones.values[b + i]!;
        if (value > top) top = value;
      }
    }
    total += top;
  }
  return total;
}

function promisingShifts(
  turns: Emissions,
  tones: Emissions,
  sources: readonly ToneSource[],
): number[] {
  const shifts = new Set<number>();
  for (const source of sources) {
    const low = Math.round(Math.log(source.lowRatio) / LOG_STEP);
    const high = Math.round(Math.log(source.highRatio) / LOG_STEP);
    for (let shift = low; shift <= high; shift += 3) shifts.add(shift);
  }
  const ranked = [...shifts]
    .map((shift) => ({ shift, score: jumpingScore(turns, tones, shift) }))
    .sort((a, b) => b.score - a.score);
  const kept: number[] = [];
  for (const { shift } of ranked) {
    if (kept.every((other) => Math.abs(other - shift) * LOG_STEP > 0.05)) kept.push(shift);
    if (kept.length === JOINT_RATIOS) break;
  }
  return kept;
}

/**
 * Courses that the speed may have taken: constant, the best path of the tones alone, of the modulation
 * alone, and of both together at the most promising ratios. Only their shape counts from here on; which
 * shaft they belong to is decided later over the whole clip.
 */
export function candidateCourses(
  turns: Emissions,
  tones: Emissions,
  sources: readonly ToneSource[],
  chirps: readonly number[],
): Course[] {
  const paths = [
    bestPath(tones, chirps),
    bestPath(turns, chirps),
    ...promisingShifts(turns, tones, sources).map((shift) =>
      bestPath(joined(turns, tones, shift), chirps),
    ),
  ];
  const courses: Course[] = [new Float64Array(turns.frameCount)];
  for (const path of paths) {
    const course = courseOf(path);
    if (courses.every((other) => courseDistance(course, other) > SAME)) courses.push(course);
  }
  return courses;
}
