import { rowsToAngle } from "../signal/angular.js";
import { fftPlan } from "../signal/fft-plan.js";
import { windowOf } from "../signal/window.js";
import { centred, courseDistance, type Course } from "./candidate-courses.js";
import { courseClock } from "./course-clock.js";
import type { LogEnvelopes } from "./log-envelope.js";
import { RUN_DOWNS, SWEEPS, type Sweep } from "./sweeps.js";

/** Modulation too weak for the short-time search shows when a whole run-up or run-down is lined up. */
const BLOCK = 1024;
const HOP = 512;
const DISTINCT = 0.03;
const FITTED = 5;
const ROUNDS = 4;

interface SweepSearch {
  readonly envelopes: LogEnvelopes;
  readonly frameCount: number;
  readonly seconds: number;
  readonly rangeHz: readonly [number, number];
  /** A run-down was told. */
  readonly coasting: boolean;
}

function courseOf(sweep: Sweep, numbers: readonly number[], count: number): Course {
  return centred(
    Float64Array.from({ length: count }, (_, i) => sweep.lnAt(numbers, (i + 0.5) / count)),
  );
}

// Summed power over frequency of all octaves, each brought to the same mean.
function powerAlong({ envelopes, seconds }: SweepSearch, course: Course): Float64Array {
  const { rows, rateHz } = envelopes;
  const clock = courseClock(course, seconds);
  const window = windowOf("hann", BLOCK);
  const plan = fftPlan(BLOCK);
  const block = new Float64Array(BLOCK);
  const bins = new Float64Array(2 * BLOCK);
  const sum = new Float64Array(BLOCK / 2);
  for (const straight of rowsToAngle(rows, rateHz, clock, rateHz)) {
    for (let start = 0; start + BLOCK <= straight.length; start += HOP) {
      for (let i = 0; i < BLOCK; i++) block[i] = straight[start + i]! * window[i]!;
      plan.forwardReal(block, bins);
      for (let k = 0; k < BLOCK / 2; k++) sum[k]! += bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
    }
  }
  return sum;
}

/** Best summed power at 1, 2 and 3 per turn over all speeds, against the surroundings of each line. */
function lineUp(search: SweepSearch, course: Course): number {
  const sum = powerAlong(search, course);
  const { rateHz } = search.envelopes;
  const low = Math.ceil((search.rangeHz[0] * BLOCK) / rateHz);
  const high = Math.min(
    Math.floor(BLOCK / 6) - 1,
    Math.floor((search.rangeHz[1] * BLOCK) / rateHz),
  );
  const excess = new Float64Array(sum.length);
  for (let k = 1; k + 10 < sum.length; k++) {
    let around = 0;
    for (let j = 4; j <= 10; j++) around += sum[Math.abs(k - j)]! + sum[k + j]!;
    excess[k] = (14 * sum[k]!) / (around + 1e-30) - 1;
  }
  let top = 0;
  for (let k = low; k <= high; k++) {
    let value = excess[k]!;
    for (const h of [2, 3]) {
      const line = Math.max(excess[h * k - 1]!, excess[h * k]!, excess[h * k + 1]!);
      value += Math.max(0, line - 0.3) / h;
    }
    top = Math.max(top, value);
  }
  return top;
}

interface Scored {
  readonly sweep: Sweep;
  readonly numbers: readonly number[];
  readonly course: Course;
  readonly score: number;
}

const scored = (search: SweepSearch, sweep: Sweep, numbers: readonly number[]): Scored => {
  const course = courseOf(sweep, numbers, search.frameCount);
  return { sweep, numbers, course, score: lineUp(search, course) };
};

// Coordinate search with halving steps. After a step that helped, the other way only leads back.
function fitted(search: SweepSearch, start: Scored): Scored {
  let best = start;
  let scale = 1;
  const after = (i: number, step: number): Scored => {
    const numbers = best.numbers.map((value, j) => (j === i ? value + step : value));
    const other = scored(search, start.sweep, numbers);
    return other.score > best.score ? other : best;
  };
  for (let round = 0; round < ROUNDS; round++) {
    for (const [i, first] of start.sweep.steps.entries()) {
      const down = after(i, -scale * first);
      best = down === best ? after(i, scale * first) : down;
    }
    scale /= 1.7;
  }
  return best;
}

function distinct(sorted: readonly Scored[], count: number): Scored[] {
  const kept: Scored[] = [];
  for (const one of sorted) {
    if (kept.every((other) => courseDistance(one.course, other.course) > DISTINCT)) kept.push(one);
    if (kept.length === count) break;
  }
  return kept;
}

/**
 * Simple courses that line up the modulation best, fitted, at most `count`; none for clips over half a
 * minute, which hardly ever are one simple sweep.
 */
export function sweepCourses(search: SweepSearch, count: number): Course[] {
  if (search.seconds > 30 || search.seconds < 6) return [];
  const sweeps = search.coasting ? RUN_DOWNS : SWEEPS;
  const tries = sweeps.map((sweep) => scored(search, sweep, sweep.numbers));
  const byScore = (a: Scored, b: Scored): number => b.score - a.score;
  const best = distinct(tries.sort(byScore), FITTED).map((one) => fitted(search, one));
  return distinct(best.sort(byScore), count).map((one) => one.course);
}
