import { FRAME_SECONDS } from "./frame-times.js";
import { rangeOf, type CourseJudge } from "./judge-course.js";
import { turnStrength } from "./hearing.js";
import type { Reading } from "./reading.js";

// Strengths that noise of any colour, rain and hum stay below in all but about one clip in a hundred,
// with and without tones of a fitting ratio beside the modulation.
const TURN_ALONE = 5.2;
const TURN_WITH_TONES = 4.4;
const TURN_AS_TOLD = 3;
const TURN_FAINT = 3;
const FAINT_ODDS = 4.5;
/** How far a drum may go beyond the highest spin speed of its kind: makes differ by a step of 200 rpm. */
export const MOST_ABOVE_TOP = 1.2;
// Hundreds of sweeps are tried on every clip; the best of about twenty different ones lies sqrt(2 ln 20) out.
const TRIED_SWEEPS = 2.4;
// Below this length a few knocks already make a line.
const FULL_SECONDS = 9;
// A drum holds less than 360 rpm for seconds only; music, steps and clocks keep such rates for long.
const SLOW_HZ = 6;
const SLOW_RANGE = 0.1;
const SLOW_FACTOR = 1.8;
// Least peak speed of what may be a spin, when a spin was told and when not.
const LEAST_PEAK_HZ = 3.3;
const LEAST_PEAK_UNTOLD_HZ = 5;
// A spin begins slowly: where one was told, a turn this strong may be slower still.
const STRONG = 9;
// ln power of the loudest 2 % over the median: 0.9 for noise, under 3 for a rattling washer, 6 and more
// for speech and ticking.
const TICKING = 3.2;
const TICKING_WITH_TONES = 5;
// A spin that was told is no clock, and knocks once per turn stand far above everything else.
const TICKING_IN_SPIN = 6;
const TOLD_SHARE = 0.07;
/** Beyond two and a half standard deviations of the belief in what was told. */
export const CONTRADICTS_TOLD = 0.12;

const typicalOff = (reading: Reading, toldHz: number): number =>
  Math.abs(Math.log((reading.drumHz * reading.judged.prior.plateauShare) / toldHz));

const isAsTold = (judge: CourseJudge, reading: Reading): boolean =>
  judge.toldDrumHz !== null && typicalOff(reading, judge.toldDrumHz) < TOLD_SHARE;

/** Whether a reading speaks against what somebody told. */
export const isAgainstTold = (judge: CourseJudge, reading: Reading): boolean =>
  judge.toldDrumHz !== null && typicalOff(reading, judge.toldDrumHz) > CONTRADICTS_TOLD;

const strengthOf = ({ hearing, evidence }: Reading): number =>
  turnStrength(hearing) * Math.min(1, (evidence.length * FRAME_SECONDS) / FULL_SECONDS);

// Once per turn must show, or twice and three times together.
function familyShows(heights: readonly number[]): boolean {
  const [one, two, three] = heights as [number, number, number];
  return one >= 2.8 || (one >= 1.5 && two >= 3.5 && three >= 3.5) || (two >= 5 && three >= 5);
}

// Below 30 Hz the multiples lie so close that some always fit.
const DENSE_HZ = 30;

function tonesShow({ hearing, toneHz, odds }: Reading): boolean {
  const least = toneHz !== null && toneHz < DENSE_HZ ? 3 : 2;
  return hearing.toneCount >= least && hearing.toneShare >= 0.6 && odds > 6;
}

// Too slow for a spin: steps, strokes, music and clocks beat at such rates.
function tooSlow(judge: CourseJudge, reading: Reading): boolean {
  const peakHz = reading.drumHz * reading.judged.prior.peakShare;
  if (judge.turning) return peakHz < LEAST_PEAK_HZ && turnStrength(reading.hearing) < STRONG;
  const even = rangeOf(reading.judged.course) < SLOW_RANGE;
  return peakHz < (even ? SLOW_HZ : LEAST_PEAK_UNTOLD_HZ);
}

// What beats faster than any such machine spins is its motor, or a belt's two slaps.
function tooFast(judge: CourseJudge, { drumHz, judged }: Reading): boolean {
  return (
    judge.toldDrumHz === null && drumHz * judged.prior.peakShare > MOST_ABOVE_TOP * judge.topHz
  );
}

// Modulation at half the mains frequency comes from pumps and rectifiers.
function isHalfMains(reading: Reading, mainsHz: number | null): boolean {
  if (mainsHz === null || !reading.judged.prior.steady) return false;
  return Math.abs(reading.drumHz / (mainsHz / 2) - 1) < 0.006;
}

// Bearings and belts beat as loud as a drum, at rates of their own: against what somebody read off the
// machine, both the drum's turn and the motor's tones must speak for another speed.
function neededAgainstTold(tones: boolean): number {
  return tones ? STRONG : Infinity;
}

function neededStrength(judge: CourseJudge, reading: Reading): number {
  const tones = tonesShow(reading);
  if (isAsTold(judge, reading)) return TURN_AS_TOLD;
  if (isAgainstTold(judge, reading)) return neededAgainstTold(tones);
  const even = rangeOf(reading.judged.course) < SLOW_RANGE;
  const slow = even && reading.drumHz < SLOW_HZ ? SLOW_FACTOR : 1;
  const least = tones ? TURN_WITH_TONES : TURN_ALONE;
  return even ? least * slow : Math.hypot(least, TRIED_SWEEPS);
}

function tickingLimit(judge: CourseJudge, tones: boolean): number {
  if (judge.turning) return TICKING_IN_SPIN;
  return tones ? TICKING_WITH_TONES : TICKING;
}

/** Whether a reading may be a drum at all, apart from how strong its turn is. */
export function mayBeDrum(judge: CourseJudge, reading: Reading): boolean {
  const { hearing } = reading;
  const tones = tonesShow(reading);
  const { contrast } = judge.input.envelopes;
  const asTold = isAsTold(judge, reading);
  if (hearing.finerComb || contrast > tickingLimit(judge, tones)) return false;
  if (!familyShows(hearing.turnHeights) || tooFast(judge, reading)) return false;
  if (!tones && !asTold && isHalfMains(reading, judge.mainsHz)) return false;
  return asTold || !tooSlow(judge, reading);
}

/** Whether a reading stands out from what noise, knocks, speech and music give. */
export function isHeard(judge: CourseJudge, reading: Reading): boolean {
  return mayBeDrum(judge, reading) && strengthOf(reading) >= neededStrength(judge, reading);
}

/**
 * Whether a reading may be taken where the drum turns for certain and no other speed comes near: noise
 * seldom favours one speed so much, and where it cannot be noise, less strength will do.
 */
export function isFaintlyHeard(judge: CourseJudge, reading: Reading): boolean {
  if (!judge.turning || !mayBeDrum(judge, reading)) return false;
  if (isAgainstTold(judge, reading)) return false;
  return reading.odds >= FAINT_ODDS && strengthOf(reading) >= TURN_FAINT;
}
