import { FRAME_SECONDS } from "./frame-times.js";
import type { CourseJudge } from "./judge-course.js";
import type { Reading } from "./reading.js";

/** Distance of the heights of a reading's modulation from what noise gives, deviations. */
export function turnStrength(reading: Reading): number {
  return Math.hypot(...reading.hearing.turnHeights.map((z) => Math.max(0, z - 1)));
}

// Strengths that noise of any colour, rain and hum stay below in all but about one clip in a hundred,
// with and without tones of a fitting ratio beside the modulation.
const TURN_ALONE = 5.2;
const TURN_WITH_TONES = 4;
const TURN_AS_TOLD = 3;
// Below this length a few knocks already make a line.
const FULL_SECONDS = 9;
// Drums hold such low speeds for seconds only; beats of music and steps do not change.
const SLOW_STEADY_HZ = 6;
const SLOW_STEADY_FACTOR = 1.8;
// ln power of the loudest 2 % over the median: 0.9 for noise, under 3 for a rattling washer, 6 and more
// for speech and ticking.
const TICKING = 3.2;
const TICKING_WITH_TONES = 5;
const TOLD_SHARE = 0.07;

const typicalOff = (reading: Reading, toldHz: number): number =>
  Math.abs(Math.log((reading.drumHz * reading.judged.prior.plateauShare) / toldHz));

// Once per turn must show, or twice and three times together.
function familyShows(heights: readonly number[]): boolean {
  const [one, two, three] = heights as [number, number, number];
  return one >= 2.8 || (one >= 1 && two >= 3 && three >= 3) || (two >= 5 && three >= 5);
}

// Modulation at half the mains frequency comes from pumps and rectifiers.
function isHalfMains(reading: Reading, mainsHz: number | null): boolean {
  if (mainsHz === null || !reading.judged.prior.steady) return false;
  return Math.abs(reading.drumHz / (mainsHz / 2) - 1) < 0.006;
}

/** Whether a reading stands out from what noise, knocks, speech and music give. */
export function isHeard(judge: CourseJudge, reading: Reading): boolean {
  const { hearing, judged } = reading;
  const seconds = reading.evidence.length * FRAME_SECONDS;
  const tones = hearing.toneCount >= 2 && hearing.toneShare >= 0.6 && reading.odds > 6;
  const { contrast } = judge.input.envelopes;
  if (hearing.finerComb || contrast > (tones ? TICKING_WITH_TONES : TICKING)) return false;
  if (!familyShows(hearing.turnHeights)) return false;
  if (!tones && isHalfMains(reading, judge.mainsHz)) return false;
  const asTold = judge.toldDrumHz !== null && typicalOff(reading, judge.toldDrumHz) < TOLD_SHARE;
  const strength = turnStrength(reading) * Math.min(1, seconds / FULL_SECONDS);
  if (asTold) return strength >= TURN_AS_TOLD;
  const slow = judged.prior.steady && reading.drumHz < SLOW_STEADY_HZ ? SLOW_STEADY_FACTOR : 1;
  return strength >= (tones ? TURN_WITH_TONES : TURN_ALONE) * slow;
}
