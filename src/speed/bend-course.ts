import { centred, type Course } from "./candidate-courses.js";
import { courseClock } from "./course-clock.js";
import { heightNear } from "./hearing.js";
import type { StraightenInput } from "./straighten-input.js";
import { SPIN_VIEW, turnSpectra } from "./turn-spectra.js";

const STEP = 0.03;

const bent = (course: Course, slope: number, bend: number): Course => {
  const n = course.length;
  return centred(
    course.map((v, i) => {
      const x = (2 * i + 1) / n - 1;
      return v + slope * x + bend * (x * x - 1 / 3);
    }),
  );
};

/**
 * Makes a course fit the modulation at a drum speed better by a little more or less slope and bend:
 * greatest summed height at 1, 2 and 3 per turn, by halving steps from 3 %.
 */
export function bendToTurns(input: StraightenInput, start: Course, drumHz: number): Course {
  const seconds = input.sound.length / input.soundRateHz;
  const heightOf = (course: Course): number => {
    const clock = courseClock(course, seconds);
    const turnPeaks = turnSpectra(input, clock, false, SPIN_VIEW).turnPeaks();
    let sum = 0;
    for (const h of [1, 2, 3]) sum += Math.max(0, heightNear(turnPeaks, h * drumHz, 0.015)) / h;
    return sum;
  };
  let course = start;
  let height = heightOf(course);
  for (let step = STEP; step > 0.003; step /= 2) {
    const tries = [
      [step, 0],
      [-step, 0],
      [0, step],
      [0, -step],
    ].map(([slope, bend]) => bent(course, slope!, bend!));
    for (const candidate of tries) {
      const value = heightOf(candidate);
      if (value > height) {
        height = value;
        course = candidate;
      }
    }
  }
  return course;
}
