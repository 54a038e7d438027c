import type { Course } from "./candidate-courses.js";
import type { Exploration } from "./exploration.js";
import { followTurns } from "./follow-turns.js";
import { turnStrength } from "./hearing.js";
import { judgeCourse, tightenedCourse } from "./judge-course.js";
import { placeNear, readingAt, type Reading } from "./reading.js";

// The course was chosen among several because it lines noise up best, too: a truer one may stand lower.
const KEEP = 0.75;

/** The likeliest reading along a course at about a drum speed. */
function readingNear({ judge, shortTime }: Exploration, course: Course, drumHz: number): Reading {
  const judged = judgeCourse(judge, course);
  return readingAt(judge, shortTime, judged, placeNear(judged.joint, drumHz));
}

/** The same reading with its course followed more closely by the modulation. */
export function followedReading(found: Exploration, reading: Reading): Reading {
  const { course, drumHz } = followTurns(found.judge.input, reading.judged.course, reading.drumHz);
  const followed = readingNear(found, course, drumHz);
  const keeps = turnStrength(followed.hearing) >= KEEP * turnStrength(reading.hearing);
  return keeps ? followed : reading;
}

/** The same reading with its course followed more closely: by the modulation first, then by the tones. */
export function finerReading(found: Exploration, reading: Reading): Reading {
  const best = followedReading(found, reading);
  const tight = tightenedCourse(best.judged);
  if (tight === null) return best;
  const tightened = readingNear(found, tight, best.drumHz);
  return turnStrength(tightened.hearing) >= turnStrength(best.hearing) ? tightened : best;
}
