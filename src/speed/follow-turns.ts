import { centred, type Course } from "./candidate-courses.js";
import { FRAME_SECONDS } from "./frame-times.js";
import type { StraightenInput } from "./straighten-input.js";
import { turnBackground, TURN_BLOCK } from "./turn-frames.js";
import { windowOf } from "../signal/window.js";

// A corner of a run-up must show within a second or two, which is what a window of 2.56 s can tell.
const KNOT_SECONDS = 1.5;
const HOP = TURN_BLOCK / 4;
/** Overlapping windows tell the same thing: this much of each counts. */
const OWN_SHARE = 0.4;
// Races of bearings stand next to 3 per turn, nothing common next to 1 and 2.
const HARMONICS = [1, 2] as const;
// One loud knock fills one window, not a line.
const MOST_HEIGHT = 100;
const STEPS = [0.032, 0.016, 0.008, 0.004, 0.002];
const PASSES = 2;
const MOST_OFF = 0.12;
/** What a corner of one neper per knot costs, nats: straight pieces are what drives and friction give. */
const CORNER_COST = 100;

interface Windows {
  readonly rows: readonly Float64Array[];
  readonly backgrounds: readonly Float64Array[];
  readonly binHz: number;
  readonly rateHz: number;
  readonly starts: readonly number[];
  readonly taper: Float64Array;
  readonly winding: Winding;
  /** Tapered waves of 1 and 2 per turn through one window, shape [TURN_BLOCK] each, filled anew for each. */
  readonly once: Wave;
  readonly twice: Wave;
}

interface Wave {
  readonly cos: Float64Array;
  readonly sin: Float64Array;
}

/** Speed and rotation along a course, wound anew for each that is tried; place `HOP` is the clip's first sample. */
interface Winding extends Wave {
  readonly hz: Float64Array;
}

const waveOf = (length: number): Wave => ({
  cos: new Float64Array(length),
  sin: new Float64Array(length),
});

function windowsOf({ envelopes, usable }: Pick<StraightenInput, "envelopes" | "usable">): Windows {
  const { rows, rateHz } = envelopes;
  const count = rows[0]?.length ?? 0;
  const starts: number[] = [];
  // Windows hang over the ends by a quarter, so that the first and last moments count as well.
  for (let start = -HOP; start + TURN_BLOCK <= count + HOP; start += HOP) {
    const middle = Math.floor((start + TURN_BLOCK / 2) / rateHz / FRAME_SECONDS);
    if (usable[Math.max(0, Math.min(usable.length - 1, middle))]) starts.push(start);
  }
  const found = rows.map((row) => turnBackground(row, rateHz));
  return {
    rows,
    backgrounds: found.map(({ background }) => background),
    binHz: found[0]?.binHz ?? 1,
    rateHz,
    starts,
    taper: windowOf("hann", TURN_BLOCK),
    winding: { ...waveOf(count + 2 * HOP), hz: new Float64Array(count + 2 * HOP) },
    once: waveOf(TURN_BLOCK),
    twice: waveOf(TURN_BLOCK),
  };
}

/** Piecewise straight corrections to a course, at even knots. */
class BentCourse {
  readonly knots: Float64Array;
  private readonly spacing: number;
  private readonly baseAtKnots: Float64Array;

  constructor(
    private readonly speedHz: Float64Array,
    rateHz: number,
  ) {
    const count = Math.max(2, Math.round(speedHz.length / rateHz / KNOT_SECONDS) + 1);
    this.knots = new Float64Array(count);
    this.spacing = (speedHz.length - 1) / (count - 1);
    this.baseAtKnots = this.knots.map((_, k) =>
      Math.log(speedHz[Math.min(speedHz.length - 1, Math.round(k * this.spacing))]!),
    );
  }

  correctionAt(sample: number): number {
    const position = Math.max(0, Math.min(this.knots.length - 1, sample / this.spacing));
    const k = Math.min(this.knots.length - 2, Math.floor(position));
    return this.knots[k]! + (position - k) * (this.knots[k + 1]! - this.knots[k]!);
  }

  /** Drum speed at a sample of the envelopes, Hz. */
  hzAt(sample: number): number {
    const inside = Math.max(0, Math.min(this.speedHz.length - 1, sample));
    return this.speedHz[inside]! * Math.exp(this.correctionAt(inside));
  }

  /** Whether a window starting at a sample sees a knot. */
  sees(start: number, knot: number): boolean {
    const low = (knot - 1) * this.spacing;
    const high = (knot + 1) * this.spacing;
    return start < high && start + TURN_BLOCK > low;
  }

  /** Cost of the corners next to a knot. */
  cornersAt(knot: number): number {
    const at = (k: number): number => this.baseAtKnots[k]! + this.knots[k]!;
    let sum = 0;
    for (let k = Math.max(1, knot - 1); k <= Math.min(this.knots.length - 2, knot + 1); k++) {
      sum += Math.abs(at(k - 1) - 2 * at(k) + at(k + 1));
    }
    return CORNER_COST * sum;
  }
}

/**
 * Winds the rotation along the course over all samples of some neighbouring windows at once. The angle that it
 * starts from is the same for a whole window, so that no height depends on it.
 */
function wind({ winding, rateHz }: Windows, course: BentCourse, starts: readonly number[]): void {
  if (starts.length === 0) return;
  let phase = 0;
  for (let j = starts[0]!; j < starts.at(-1)! + TURN_BLOCK; j++) {
    const hz = course.hzAt(j);
    phase += (2 * Math.PI * hz) / rateHz;
    winding.hz[HOP + j] = hz;
    winding.cos[HOP + j] = Math.cos(phase);
    winding.sin[HOP + j] = Math.sin(phase);
  }
}

/** Puts the waves of one window, which must have been wound over, into `once` and `twice`. */
function taperWaves({ winding, taper, once, twice }: Windows, start: number): void {
  for (let j = 0; j < TURN_BLOCK; j++) {
    const cos = winding.cos[HOP + start + j]!;
    const sin = winding.sin[HOP + start + j]!;
    const c = taper[j]! * cos;
    const s = taper[j]! * sin;
    once.cos[j] = c;
    once.sin[j] = s;
    twice.cos[j] = c * cos - s * sin;
    twice.sin[j] = c * sin + s * cos;
  }
}

/** Heights over the background of 1 and 2 per turn in one window; shape [octaves * HARMONICS]. */
function heightsIn(windows: Windows, start: number): Float64Array {
  const { rows, backgrounds, binHz, winding, once, twice } = windows;
  taperWaves(windows, start);
  const middleHz = winding.hz[HOP + start + TURN_BLOCK / 2]!;
  const heights = new Float64Array(rows.length * HARMONICS.length);
  rows.forEach((row, b) => {
    const first = Math.max(0, -start);
    const last = Math.min(TURN_BLOCK, row.length - start);
    let x1 = 0;
    let y1 = 0;
    let x2 = 0;
    let y2 = 0;
    for (let j = first; j < last; j++) {
      const value = row[start + j]!;
      x1 += once.cos[j]! * value;
      y1 += once.sin[j]! * value;
      x2 += twice.cos[j]! * value;
      y2 += twice.sin[j]! * value;
    }
    const powers = [x1 * x1 + y1 * y1, x2 * x2 + y2 * y2];
    HARMONICS.forEach((harmonic, h) => {
      const noise = backgrounds[b]![Math.round((harmonic * middleHz) / binHz)];
      heights[b * HARMONICS.length + h] =
        noise === undefined ? 0 : Math.min(MOST_HEIGHT, powers[h]! / noise);
    });
  });
  return heights;
}

// Of a line s times as strong as the noise, a height r speaks s / (1 + s) r nats (exponential heights).
function weightsOf(heights: readonly Float64Array[]): Float64Array {
  const count = heights[0]?.length ?? 0;
  return Float64Array.from({ length: count }, (_, i) => {
    const mean = heights.reduce((sum, row) => sum + row[i]!, 0) / heights.length;
    const line = Math.max(0, mean - 1);
    return (OWN_SHARE * line) / (1 + line);
  });
}

const weighed = (heights: Float64Array, weights: Float64Array): number =>
  heights.reduce((sum, height, i) => sum + weights[i]! * height, 0);

/** One round of moves of single knots; true when any helped. */
function improve(windows: Windows, course: BentCourse, step: number): boolean {
  wind(windows, course, windows.starts);
  const heights = windows.starts.map((start) => heightsIn(windows, start));
  const weights = weightsOf(heights);
  const scores = heights.map((row) => weighed(row, weights));
  let helped = false;
  for (let knot = 0; knot < course.knots.length; knot++) {
    const seen = windows.starts.flatMap((start, i) => (course.sees(start, knot) ? [i] : []));
    const starts = seen.map((i) => windows.starts[i]!);
    const before = course.knots[knot]!;
    let best = seen.reduce((sum, i) => sum + scores[i]!, 0) - course.cornersAt(knot);
    let kept = before;
    for (const sign of [-1, 1]) {
      const to = before + sign * step;
      if (Math.abs(to) > MOST_OFF) continue;
      course.knots[knot] = to;
      wind(windows, course, starts);
      const tried = starts.map((start) => weighed(heightsIn(windows, start), weights));
      const score = tried.reduce((sum, v) => sum + v, 0) - course.cornersAt(knot);
      if (score <= best) continue;
      best = score;
      kept = to;
      seen.forEach((i, k) => (scores[i] = tried[k]!));
      helped = true;
    }
    course.knots[knot] = kept;
  }
  return helped;
}

/** A course with the reference speed that goes with it. */
export interface FollowedCourse {
  readonly course: Course;
  readonly drumHz: number;
}

/**
 * Follows the once-per-turn modulation more closely than short spectra can: moves the knots of a
 * piecewise straight correction until the summed heights at 1 and 2 per turn, octave by octave in
 * windows of 2.56 s that are wound along the course, rise no further. Where the course is right a window
 * asks for no correction, also at corners and at the ends of the clip.
 */
export function followTurns(
  input: Pick<StraightenInput, "envelopes" | "usable">,
  start: Course,
  drumHz: number,
): FollowedCourse {
  const windows = windowsOf(input);
  const count = input.envelopes.rows[0]?.length ?? 0;
  const { rateHz } = input.envelopes;
  const speedHz = Float64Array.from({ length: count }, (_, i) => {
    const position = Math.max(0, Math.min(start.length - 1, i / rateHz / FRAME_SECONDS - 0.5));
    const k = Math.min(Math.max(0, start.length - 2), Math.floor(position));
    const next = start[Math.min(start.length - 1, k + 1)]!;
    return drumHz * Math.exp(start[k]! + (position - k) * (next - start[k]!));
  });
  const course = new BentCourse(speedHz, rateHz);
  for (const step of STEPS) {
    for (let pass = 0; pass < PASSES; pass++) if (!improve(windows, course, step)) break;
  }
  const ln = start.map(
    (value, i) => value + course.correctionAt((i + 0.5) * FRAME_SECONDS * rateHz),
  );
  const mean = ln.reduce((sum, v) => sum + v, 0) / ln.length;
  return { course: centred(ln), drumHz: drumHz * Math.exp(mean) };
}
