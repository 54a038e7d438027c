import { toAngle } from "../signal/angular.js";
import { fftPlan } from "../signal/fft-plan.js";
import { windowOf } from "../signal/window.js";
import { centred, type Course } from "./candidate-courses.js";
import { courseClock } from "./course-clock.js";
import type { LogEnvelopes } from "./log-envelope.js";

/** Modulation too weak for the short-time search shows when a whole run-up or run-down is lined up. */
const BLOCK = 1024;
const HOP = 512;
const TOTALS = 0.15;
const LONGEST_TOTAL = 1.5;
const BENDS = [-0.7, 0, 0.7];
const DISTINCT = 0.03;

// ln speed changes by `total` over the clip; bend -0.7: most of it early, +0.7: most of it late.
function simpleCourse(count: number, total: number, bend: number): Course {
  return centred(
    Float64Array.from({ length: count }, (_, i) => {
      const x = (i + 0.5) / count;
      return total * (x - bend * x * (1 - x));
    }),
  );
}

// Best summed power at 1, 2 and 3 per turn over all speeds, in deviations of what all speeds give.
function lineUp(
  envelopes: LogEnvelopes,
  course: Course,
  seconds: number,
  rangeHz: readonly [number, number],
): number {
  const { rows, rateHz } = envelopes;
  const clock = courseClock(course, seconds);
  const window = windowOf("hann", BLOCK);
  const block = new Float64Array(BLOCK);
  const bins = new Float64Array(2 * BLOCK);
  const sum = new Float64Array(BLOCK / 2);
  for (const row of rows) {
    const straight = toAngle(row, rateHz, clock, rateHz);
    for (let start = 0; start + BLOCK <= straight.length; start += HOP) {
      for (let i = 0; i < BLOCK; i++) block[i] = straight[start + i]! * window[i]!;
      fftPlan(BLOCK).forwardReal(block, bins);
      for (let k = 0; k < BLOCK / 2; k++) sum[k]! += bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
    }
  }
  const low = Math.ceil((rangeHz[0] * BLOCK) / rateHz);
  const high = Math.min(Math.floor(BLOCK / 6) - 1, Math.floor((rangeHz[1] * BLOCK) / rateHz));
  const local = (k: number): number => {
    let around = 0;
    for (let j = 4; j <= 10; j++) around += sum[Math.abs(k - j)]! + sum[k + j]!;
    return (14 * sum[k]!) / (around + 1e-30) - 1;
  };
  let top = 0;
  for (let k = low; k <= high; k++) {
    let value = local(k);
    for (const h of [2, 3])
      value += Math.max(0, Math.max(local(h * k - 1), local(h * k), local(h * k + 1)) - 0.3) / h;
    top = Math.max(top, value);
  }
  return top;
}

/**
 * Courses of one bend that line up the modulation best, at most two; none for clips over half a minute,
 * which hardly ever are one simple sweep.
 */
export function simpleCourses(
  envelopes: LogEnvelopes,
  frameCount: number,
  seconds: number,
  rangeHz: readonly [number, number],
): Course[] {
  if (seconds > 30 || seconds < 6) return [];
  const scored: { course: Course; score: number; total: number; bend: number }[] = [];
  for (let total = -LONGEST_TOTAL; total <= LONGEST_TOTAL + 1e-9; total += TOTALS) {
    for (const bend of BENDS) {
      if (Math.abs(total) < 0.2 && bend !== 0) continue;
      const course = simpleCourse(frameCount, total, bend);
      scored.push({ course, total, bend, score: lineUp(envelopes, course, seconds, rangeHz) });
    }
  }
  scored.sort((a, b) => b.score - a.score);
  const kept: Course[] = [];
  for (const { course } of scored) {
    const apart = (other: Course): boolean => {
      let squares = 0;
      for (let i = 0; i < course.length; i++) squares += (course[i]! - other[i]!) ** 2;
      return Math.sqrt(squares / course.length) > DISTINCT;
    };
    if (kept.every(apart)) kept.push(course);
    if (kept.length === 2) break;
  }
  return kept;
}
