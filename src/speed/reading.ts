import { fitFamily } from "./fit-family.js";
import { frameEvidence, type ShortTime } from "./frame-evidence.js";
import { hearingOf, onlyEven, turnStrength, type Hearing } from "./hearing.js";
import { FINE_STEP, scanHz } from "./family-scan.js";
import { bestRatio, tonesHeard, type JointScan } from "./joint-odds.js";
import type { CourseJudge, JudgedCourse } from "./judge-course.js";
import type { ToneSource } from "./tone-source.js";

/** One way to read a clip: which course, which drum speed, which tones. */
export interface Reading {
  readonly judged: JudgedCourse;
  /** Reference drum speed, where the course is 0. */
  readonly drumHz: number;
  /** Relative standard error of `drumHz`. */
  readonly drumError: number;
  /** Fundamental of the tones at the reference speed; null when no tones are heard. */
  readonly toneHz: number | null;
  readonly source: ToneSource;
  /** Log-odds, comparable between readings of one clip. */
  readonly odds: number;
  readonly hearing: Hearing;
  /** Score per frame. */
  readonly evidence: Float64Array;
}

// Half-width of a Hann line in ln power: ln P = c - (Δf / w)², w = 0.85 bins of the block.
const TURN_WIDTH_HZ = 0.085;
const TONE_WIDTH_HZ = 0.83;
const TONES_COUNT_FROM = 0.5;
const EVIDENCE_WEIGHT = 0.5;
// Other lines are lower than those of the drum: a deviation more speaks this much for the drum, nats.
const HEIGHT_WEIGHT = 0.2;
// Of drums that are heard, one in twenty lacks both odd multiples beside a clear second one.
const ONLY_EVEN_COST = 3;

// Course errors and drift within blocks widen what the lines alone allow.
const ERROR_FACTOR = 1.6;
const ERROR_FLOOR = 0.0012;
/** How far around a speed its likeliest place is looked for, nepers. */
const REACH = 0.012;

/** Likeliest place of a joint scan at about a drum speed. */
export function placeNear({ odds, firstLn }: JointScan, drumHz: number): number {
  const middle = Math.round((Math.log(drumHz) - firstLn) / FINE_STEP);
  const reach = Math.round(REACH / FINE_STEP);
  let place = Math.max(0, Math.min(odds.length - 1, middle));
  for (let i = middle - reach; i <= middle + reach; i++) {
    if ((odds[i] ?? -Infinity) > odds[place]!) place = i;
  }
  return place;
}

/** Reads a judged course at one place of its joint scan. */
export function readingAt(
  judge: CourseJudge,
  shortTime: ShortTime,
  judged: JudgedCourse,
  place: number,
): Reading {
  const coarseHz = scanHz(judged.joint, place);
  const heard = tonesHeard(judged.joint, judge.sources, place);
  const source = judge.sources[heard.source]!;
  const turn = fitFamily(judged.spectra.turnPeaks, coarseHz, 4, 0.012, TURN_WIDTH_HZ);
  let drumHz = turn.hz;
  let drumError = turn.error;
  let toneHz: number | null = null;
  if (heard.probability > TONES_COUNT_FROM) {
    const coarse = bestRatio(coarseHz, judged.tones, source, judged.prior).toneHz;
    const tone = fitFamily(judged.spectra.tone, coarse, 10, 0.006, TONE_WIDTH_HZ);
    toneHz = tone.hz;
    // Of tones and turn the one that places the drum more exactly: faint tones place it worse than a clear turn.
    if (source.lowRatio === source.highRatio && tone.error < turn.error) {
      drumHz = tone.hz / source.lowRatio;
      drumError = tone.error;
    }
  }
  // Tones count once, in the joint odds: here they would outvote the drum's turn frame by frame.
  const turnEvidence = frameEvidence(shortTime, judged.course, drumHz, null);
  const total = turnEvidence.reduce((sum, v) => sum + v, 0) / Math.sqrt(turnEvidence.length);
  const hearing = hearingOf(judged, drumHz, toneHz);
  return {
    judged,
    drumHz,
    drumError: Math.hypot(ERROR_FACTOR * drumError, ERROR_FLOOR),
    toneHz,
    source,
    odds:
      judged.joint.odds[place]! +
      EVIDENCE_WEIGHT * total +
      HEIGHT_WEIGHT * turnStrength(hearing) -
      (onlyEven(hearing) ? ONLY_EVEN_COST : 0),
    hearing,
    evidence:
      toneHz === null ? turnEvidence : frameEvidence(shortTime, judged.course, drumHz, toneHz),
  };
}
