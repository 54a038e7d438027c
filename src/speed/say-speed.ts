import { alternativeOf, readingDistance } from "./alternative.js";
import { beliefIn, type FollowedReading } from "./belief.js";
import type { Exploration } from "./exploration.js";
import { FRAME_SECONDS } from "./frame-times.js";
import { turnStrength } from "./hearing.js";
import { finerReading } from "./finer-reading.js";
import {
  CONTRADICTS_TOLD,
  isAgainstTold,
  isFaintlyHeard,
  isHeard,
  MOST_ABOVE_TOP,
} from "./is-heard.js";
import type { CourseJudge } from "./judge-course.js";
import type { MainsComb } from "./mains-comb.js";
import type { MotorAlone } from "./motor-alone.js";
import { movementOf, runsDown, trustedFrames } from "./movement.js";
import type { Reading } from "./reading.js";
import { slowTrack, type SlowTurns } from "./slow-turns.js";
import type { Estimate, Movement, SpeedEstimate, SpeedNote, SpeedPoint } from "./speed-estimate.js";
import type { SpeedOptions } from "./speed-options.js";
import type { ToneSource } from "./tone-source.js";
import { spreadUnheard, typicalOf } from "./typical-speed.js";

const NORMAL_90 = 1.645;

const around = (value: number, relativeError: number): Estimate => ({
  value,
  low: value * Math.exp(-NORMAL_90 * relativeError),
  high: value * Math.exp(NORMAL_90 * relativeError),
});

/** What every estimate says, heard or not. */
export interface SpeedFrame {
  readonly mains: MainsComb;
  readonly frameCount: number;
}

const baseOf = ({ mains }: SpeedFrame) => ({
  lineHz: mains.lineHz,
  lineCombDb: mains.combDb,
  hopSeconds: FRAME_SECONDS,
});

const trackOf = (drumHz: readonly (number | null)[]): SpeedPoint[] =>
  drumHz.map((hz, i) => ({
    timeSeconds: (i + 0.5) * FRAME_SECONDS,
    drumRpm: hz === null ? null : 60 * hz,
  }));

function toldNotes(typicalHzValue: number, toldDrumRpm: number | undefined): SpeedNote[] {
  if (toldDrumRpm === undefined) return [];
  const off = Math.abs(Math.log((typicalHzValue * 60) / toldDrumRpm));
  return [off > CONTRADICTS_TOLD ? "told-speed-contradicted" : "told-speed-used"];
}

interface Drive {
  readonly motorToDrum: Estimate | null;
  readonly motorRpm: Estimate | null;
  readonly notes: readonly SpeedNote[];
}

// Tones place the motor to about 0.1 %, far better than modulation places the drum.
const TONE_ERROR = 0.001;

function driveOf(found: Exploration, reading: Reading, typical: number): Drive {
  const { source, toneHz, drumHz, drumError } = reading;
  const tones = toneHz !== null && reading.hearing.toneCount > 0;
  const notes: SpeedNote[] = tones ? [] : ["only-modulation"];
  const direct = (one: ToneSource): boolean => one.motorPerTone !== 1;
  if (found.judge.sources.every(direct) || (tones && direct(source))) {
    return { motorToDrum: around(1, 0), motorRpm: around(60 * typical, drumError), notes };
  }
  if (!tones) return { motorToDrum: null, motorRpm: null, notes };
  const ratio = toneHz / drumHz;
  return {
    motorToDrum: around(ratio, drumError),
    motorRpm: around(60 * typical * ratio, TONE_ERROR),
    notes: [...notes, "ratio-estimated"],
  };
}

const AMBIGUOUS = 1.5;
/** How likely a speed must be among all at which the clip may be read, when it is well heard and when faintly. */
const LEAST_BELIEF = 0.7;
const LEAST_BELIEF_FAINT = 0.85;
const LEAST_BELIEF_AGAINST_TOLD = 0.95;

/** How closely a course is followed, as a share of speed. */
const FOLLOWED_TO = 0.002;

/**
 * What the errors above leave out: chosen so that nine in ten speeds lie in their interval, those that are wrong
 * altogether counted in; 89 of 102 do (docs/validation.md, "How often the interval holds").
 */
const LEFT_OUT = 2.4;

const SAME_COURSE = 0.08;
/** What a whole neper of movement must bring in deviations. */
const MOVEMENT_COST = 3;

function pathLength(course: Float64Array): number {
  let sum = 0;
  for (let i = 1; i < course.length; i++) sum += Math.abs(course[i]! - course[i - 1]!);
  return sum;
}

/** Relative error beyond which a speed is doubted altogether, unless a spin or run-down was told. */
const USELESS = 0.2;

/** What a course may go on to where it is not heard, nepers for the whole clip. */
const BEYOND = 0.75;

/**
 * Whatever is meant by the speed of a clip lies between its slowest and its fastest moment, rpm; where such
 * a moment is not heard itself, somewhat beyond.
 */
function spanOf(
  { judged, drumHz }: Reading,
  trusted: Uint8Array,
  relativeError: number,
): readonly [number, number] {
  const heard = trusted.reduce((sum, one) => sum + one, 0);
  const beyond = Math.hypot(relativeError, BEYOND * (1 - heard / trusted.length));
  const ends = [Math.min(...judged.course), Math.max(...judged.course)].map((ln) => {
    const within = trusted[judged.course.indexOf(ln)] === 1;
    return around(60 * drumHz * Math.exp(ln), within ? relativeError : beyond);
  });
  return [ends[0]!.low, ends[1]!.high];
}

/** Of all readings that follow about the same course at about the same speed, the one that lines up best. */
function clearestLike(found: Exploration, chosen: Reading): Reading {
  const isLike = (one: Reading): boolean => readingDistance(chosen, one) < SAME_COURSE;
  // Noise can always be followed a little better with more movement.
  const clarity = ({ hearing, judged }: Reading): number =>
    turnStrength(hearing) - MOVEMENT_COST * pathLength(judged.course);
  return found.readings
    .filter(isLike)
    .reduce((best, one) => (clarity(one) > clarity(best) ? one : best), chosen);
}

function leastBelief(judge: CourseJudge, reading: Reading, well: boolean): number {
  if (isAgainstTold(judge, reading)) return LEAST_BELIEF_AGAINST_TOLD;
  return well ? LEAST_BELIEF : LEAST_BELIEF_FAINT;
}

/** The reading to tell: the likeliest that is heard, unless others come too near. */
function readingToTell(found: Exploration): FollowedReading | null {
  const { judge, readings } = found;
  const heard = readings.find((one) => isHeard(judge, one));
  const best = heard ?? readings[0];
  if (best === undefined || (heard === undefined && !isFaintlyHeard(judge, best))) return null;
  const clearest = clearestLike(found, best);
  const followed: FollowedReading = { found: clearest, finer: finerReading(found, clearest) };
  const belief = beliefIn(found, followed, heard !== undefined);
  return belief >= leastBelief(judge, best, heard !== undefined) ? followed : null;
}

/** The estimate that the best reading gives, or null when none is heard well enough. */
export function speedFromReading(found: Exploration, options: SpeedOptions): SpeedEstimate | null {
  const told = readingToTell(found);
  if (told === null) return null;
  const { finer: reading } = told;
  const alternative = alternativeOf(found, told.found);
  const { judged, drumHz, drumError, evidence } = reading;
  const trusted = trustedFrames(evidence, found.judge.input.usable);
  const track = Array.from(judged.course, (value, i) =>
    trusted[i] ? drumHz * Math.exp(value) : null,
  );
  const heard = track.filter((hz): hz is number => hz !== null);
  if (heard.length < 4) return null;
  if (found.judge.coasting && !runsDown(track)) return null;
  const meant = typicalOf(track, reading, MOST_ABOVE_TOP * found.judge.topHz);
  const typical = meant.hz;
  const { motorToDrum, motorRpm, notes } = driveOf(found, reading, typical);
  const followed = Math.hypot(drumError, FOLLOWED_TO);
  const error = Math.hypot(followed, spreadUnheard(track, meant.held));
  if (error > USELESS && !found.judge.turning) return null;
  const typicalError = LEFT_OUT * error;
  const [slowest, fastest] = spanOf(reading, trusted, LEFT_OUT * followed);
  const ambiguous = alternative !== null && alternative.logOdds < AMBIGUOUS;
  return {
    ...baseOf({ mains: found.mains, frameCount: track.length }),
    drumRpm: {
      value: 60 * typical,
      // What is followed bounds what is meant, unless the drum may go on where nothing is heard.
      low: Math.min(
        60 * meant.lowHz,
        Math.max(slowest, around(60 * meant.lowHz, typicalError).low),
      ),
      high: Math.max(
        60 * meant.highHz,
        Math.min(fastest, around(60 * meant.highHz, typicalError).high),
      ),
    },
    motorRpm,
    motorToDrum,
    track: trackOf(track),
    movement: movementOf(track),
    spanRpm: [60 * Math.min(...heard), 60 * Math.max(...heard)],
    relativeError: drumError,
    notes: [
      ...notes,
      ...toldNotes(typical, options.toldDrumRpm),
      ...(ambiguous ? (["octave-ambiguous"] as const) : []),
    ],
    alternative,
  };
}

/** The estimate for a drum that turns slowly and steadily, or slows down by hand. */
export function speedFromSlowTurns(
  turns: SlowTurns,
  frame: SpeedFrame,
  movement: Movement,
  options: SpeedOptions,
): SpeedEstimate {
  const track = slowTrack(turns);
  return {
    ...baseOf(frame),
    drumRpm: around(60 * turns.drumHz, turns.drumError),
    motorRpm: null,
    motorToDrum: null,
    track: trackOf(track),
    movement,
    spanRpm: [60 * Math.min(...track), 60 * Math.max(...track)],
    relativeError: turns.drumError,
    notes: ["only-modulation", ...toldNotes(turns.drumHz, options.toldDrumRpm)],
    alternative: null,
  };
}

/** The estimate when no speed is heard, or the drum is known to stand. */
export function speedUnheard(
  frame: SpeedFrame,
  movement: Movement,
  notes: readonly SpeedNote[],
): SpeedEstimate {
  return {
    ...baseOf(frame),
    drumRpm: null,
    motorRpm: null,
    motorToDrum: null,
    track: trackOf(Array.from({ length: frame.frameCount }, () => null)),
    movement,
    spanRpm: null,
    relativeError: 1,
    notes,
    alternative: null,
  };
}

/** The estimate when the motor is heard and the drum is not. */
export function speedOfMotor(unheard: SpeedEstimate, motor: MotorAlone): SpeedEstimate {
  return {
    ...unheard,
    motorRpm: around(60 * motor.typicalHz, TONE_ERROR),
    motorAloneRpm: Array.from(motor.trackHz, (hz) => 60 * hz),
    movement: movementOf([...motor.trackHz]),
    relativeError: TONE_ERROR,
    notes: ["motor-only"],
  };
}

/** How far the speed that somebody tells may be off. */
const TOLD_ERROR = 0.012;

/**
 * The speed that was told, taken over when the sound itself shows none and does not speak against it:
 * no track, an interval of ±2 %, and only where the drum turns.
 */
export function speedAsTold(unheard: SpeedEstimate, toldDrumRpm: number): SpeedEstimate {
  return {
    ...unheard,
    drumRpm: around(toldDrumRpm, TOLD_ERROR),
    movement: "unknown",
    relativeError: TOLD_ERROR,
    notes: ["told-speed-used"],
  };
}
