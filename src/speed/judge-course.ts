import { quantile } from "../foundation/statistics.js";
import { alignTones } from "./align-tones.js";
import { centred, type Course } from "./candidate-courses.js";
import { FINE_STEP, scanTones, scanTurns, type Scan, type OtherPart } from "./family-scan.js";
import { FRAME_SECONDS } from "./frame-times.js";
import { joinScans, type JointScan, type SpeedPrior } from "./joint-odds.js";
import { orderSpectra, type OrderSpectra } from "./order-spectra.js";
import type { StraightenInput } from "./straighten-input.js";
import type { ToneSource } from "./tone-source.js";

/** What stays the same for all courses of one clip. */
export interface CourseJudge {
  readonly input: StraightenInput;
  readonly sources: readonly ToneSource[];
  readonly bandHz: readonly [number, number];
  readonly drumHz: readonly [low: number, high: number];
  readonly mainsHz: number | null;
  /** What else may beat along with the drum. */
  readonly others: readonly OtherPart[];
  readonly toldDrumHz: number | null;
  readonly toldMotorHz: number | null;
  readonly lineHz: 50 | 60 | null;
  /** A spin or run-down was told, so that the drum turns for certain. */
  readonly turning: boolean;
  /** A run-down was told. */
  readonly coasting: boolean;
  /** Highest spin speed of the machine, Hz. */
  readonly topHz: number;
  /** Lowest speed that the machine holds in a spin, Hz. */
  readonly leastSteadyHz: number;
}

/** A course with the odds of every drum speed along it. */
export interface JudgedCourse {
  readonly course: Course;
  readonly spectra: OrderSpectra;
  readonly tones: Scan;
  readonly joint: JointScan;
  readonly prior: SpeedPrior;
  /** Places of the best joint odds and of the best odds of the modulation alone, if that is another one. */
  readonly places: readonly number[];
}

/** Range of course in which a clip still counts as one steady speed. */
const STEADY_RANGE = 0.012;

export const rangeOf = (course: Course): number => Math.max(...course) - Math.min(...course);

// Relative speed of the longest steady part, or null when there is none.
function plateauShare(course: Course): number | null {
  const part = longestPlateau(course);
  if (part === null) return null;
  let sum = 0;
  for (let i = part[0]; i < part[1]; i++) sum += course[i]!;
  return Math.exp(sum / (part[1] - part[0]));
}

const LEAST_PLATEAU_SECONDS = 2.5;

/** How even and how long a stretch of a course must be to count as steady. */
export interface Steadiness {
  /** Range of ln speed that it may fill. */
  readonly range: number;
  readonly seconds: number;
}

const PLATEAU: Steadiness = { range: 0.02, seconds: LEAST_PLATEAU_SECONDS };

/** Longest run of frames within a range, by default ±1 %, of 2.5 s at least: [first, after last], or null. */
export function longestPlateau(
  course: Course,
  { range, seconds }: Steadiness = PLATEAU,
): readonly [number, number] | null {
  let best: readonly [number, number] | null = null;
  for (let i = 0; i < course.length; i++) {
    let low = course[i]!;
    let high = low;
    let j = i;
    while (j < course.length) {
      low = Math.min(low, course[j]!);
      high = Math.max(high, course[j]!);
      if (high - low > range) break;
      j++;
    }
    if (best === null || j - i > best[1] - best[0]) best = [i, j];
  }
  return best !== null && (best[1] - best[0]) * FRAME_SECONDS >= seconds ? best : null;
}

function toneRange(judge: CourseJudge): readonly [number, number] {
  const low = Math.min(...judge.sources.map((s) => s.lowRatio)) * judge.drumHz[0];
  const high = Math.max(...judge.sources.map((s) => s.highRatio)) * judge.drumHz[1];
  return [Math.max(9, low * 0.99), Math.min(1800, high * 1.01)];
}

function scansOf(
  judge: CourseJudge,
  spectra: OrderSpectra,
  prior: SpeedPrior,
): { tones: Scan; joint: JointScan } {
  const [low, high] = toneRange(judge);
  const tones = scanTones(spectra.tone, low, high, {
    bandHz: judge.bandHz,
    mainsHz: prior.steady ? judge.mainsHz : null,
  });
  const turns = scanTurns(spectra.turn, judge.drumHz[0], judge.drumHz[1], {
    others: judge.others,
  });
  return { tones, joint: joinScans(turns, tones, judge.sources, prior) };
}

const SAME_PLACE = 0.01;

/** Place of the highest odds. */
export function placeOfTop(odds: Float64Array): number {
  let best = 0;
  for (let i = 1; i < odds.length; i++) if (odds[i]! > odds[best]!) best = i;
  return best;
}

export function judgeCourse(judge: CourseJudge, course: Course): JudgedCourse {
  const spectra = orderSpectra(judge.input, course);
  const plateau = plateauShare(course);
  const peak = Math.exp(quantile(course, 0.95));
  const prior: SpeedPrior = {
    toldDrumHz: judge.toldDrumHz,
    toldMotorHz: judge.toldMotorHz,
    plateauShare: plateau ?? 1,
    onPlateau: plateau !== null && plateau > 0.96 * peak,
    lineHz: judge.lineHz,
    peakShare: peak,
    steady: rangeOf(course) < STEADY_RANGE,
    topHz: judge.topHz,
    leastSteadyHz: judge.leastSteadyHz,
  };
  const { tones, joint } = scansOf(judge, spectra, prior);
  const best = placeOfTop(joint.odds);
  const byTurns = placeOfTop(joint.withoutTones);
  const same = Math.abs(best - byTurns) * FINE_STEP < SAME_PLACE;
  return { course, spectra, tones, joint, prior, places: same ? [best] : [best, byTurns] };
}

/** Course with the corrections of the tones worked in, or null when the tones give none. */
export function tightenedCourse(judged: JudgedCourse): Course | null {
  const { toneFrames, toneSeconds, tone } = judged.spectra;
  const corrections = alignTones(toneFrames, tone.binHz);
  if (corrections === null) return null;
  let k = 0;
  const ln = judged.course.map((value, i) => {
    const seconds = (i + 0.5) * FRAME_SECONDS;
    while (k < toneSeconds.length - 2 && toneSeconds[k + 1]! < seconds) k++;
    const a = toneSeconds[k]!;
    const b = toneSeconds[Math.min(k + 1, toneSeconds.length - 1)]!;
    const share = b > a ? Math.min(1, Math.max(0, (seconds - a) / (b - a))) : 0;
    const next = corrections[Math.min(k + 1, corrections.length - 1)]!;
    return value + corrections[k]! + share * (next - corrections[k]!);
  });
  return centred(ln);
}
