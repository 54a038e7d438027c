import { candidateCourses } from "./candidate-courses.js";
import { toneEmissions, turnEmissions } from "./emissions.js";
import type { ShortTime } from "./frame-evidence.js";
import { frameTimes } from "./frame-times.js";
import { halfRate } from "./half-rate.js";
import { judgeCourse, tightenedCourse, type CourseJudge } from "./judge-course.js";
import { logEnvelopes } from "./log-envelope.js";
import { logGrid } from "./log-grid.js";
import { findMainsComb, type MainsComb } from "./mains-comb.js";
import { readingAt, type Reading } from "./reading.js";
import { speedFromReading, speedUnheard } from "./say-speed.js";
import type { Exploration } from "./exploration.js";
import type { SpeedOptions } from "./speed-options.js";
import type { SpeedEstimate } from "./speed-estimate.js";
import { toneFrames } from "./tone-frames.js";
import { toneSources } from "./tone-source.js";
import { turnFrames } from "./turn-frames.js";

// Relative change of speed per second that the short-time search tries.
const CHIRPS = [-0.18, -0.1, -0.05, -0.02, 0, 0.02, 0.05, 0.1, 0.18];
const SPIN_RANGE_HZ: readonly [number, number] = [1.6, 27.5];
/** Courses whose first reading is worth a second look. */
const LOOK_AT = 2;

function judgeOf(
  sound: Float64Array,
  soundRateHz: number,
  options: SpeedOptions,
): {
  judge: CourseJudge;
  mains: MainsComb;
} {
  const half = halfRate(sound);
  const rateHz = soundRateHz / 2;
  const mains = findMainsComb(half, rateHz, options.bandHz, options.toldLineHz);
  const { usable } = frameTimes(sound.length / soundRateHz, options.usable);
  const envelopes = logEnvelopes(sound, soundRateHz, options.bandHz);
  const judge: CourseJudge = {
    input: { sound: half, soundRateHz: rateHz, envelopes, usable, mainsHz: mains.exactHz },
    sources: toneSources(options.washer),
    bandHz: options.bandHz,
    drumHz: SPIN_RANGE_HZ,
    mainsHz: mains.exactHz,
    belt: options.washer.profiles.some((profile) => profile.drive === "belt"),
    toldDrumHz: options.toldDrumRpm === undefined ? null : options.toldDrumRpm / 60,
    toldMotorHz: options.toldMotorRpm === undefined ? null : options.toldMotorRpm / 60,
    lineHz: mains.lineHz,
    topHz: Math.max(...options.washer.profiles.map((profile) => profile.spinRpm.high)) / 60,
  };
  return { judge, mains };
}

function shortTimeOf(judge: CourseJudge): ShortTime {
  const { sound, soundRateHz, envelopes, usable, mainsHz } = judge.input;
  const times = { ...frameTimes(sound.length / soundRateHz), usable };
  const [low, high] = judge.drumHz;
  const lowTone = Math.max(12, Math.min(...judge.sources.map((s) => s.lowRatio)) * low);
  const highTone = Math.min(1600, Math.max(...judge.sources.map((s) => s.highRatio)) * high);
  return {
    chirps: CHIRPS,
    turns: turnEmissions(turnFrames(envelopes, times, CHIRPS), logGrid(low, high)),
    tones: toneEmissions(
      toneFrames(sound, soundRateHz, times, CHIRPS, mainsHz),
      logGrid(lowTone, highTone),
      judge.bandHz,
    ),
  };
}

/** Works out how a clip of a spin may be read. */
export function explore(
  sound: Float64Array,
  soundRateHz: number,
  options: SpeedOptions,
): Exploration {
  const { judge, mains } = judgeOf(sound, soundRateHz, options);
  const shortTime = shortTimeOf(judge);
  const { turns, tones } = shortTime;
  const readings: Reading[] = candidateCourses(turns, tones, judge.sources, CHIRPS).map(
    (course) => {
      const judged = judgeCourse(judge, course);
      return readingAt(judge, shortTime, judged, judged.best);
    },
  );
  readings.sort((a, b) => b.odds - a.odds);
  for (const reading of readings.slice(0, LOOK_AT)) {
    const tight = tightenedCourse(reading.judged);
    if (tight === null) continue;
    const judged = judgeCourse(judge, tight);
    readings.push(readingAt(judge, shortTime, judged, judged.best));
  }
  readings.sort((a, b) => b.odds - a.odds);
  return { judge, shortTime, mains, readings };
}

/**
 * Drum and motor speed over time, from sound alone.
 *
 * Looks for one course of speed that explains both the once-per-turn modulation of the noise (at 1, 2, 3
 * per drum turn) and the tones of the motor (at multiples of its own rotation, or of the poles of a
 * direct drive), at a ratio the machine can have. Short-time scores give candidate courses (Viterbi over
 * speed and its rate of change); each is taken out of the clip by angular resampling and judged over the
 * whole clip. Says nothing (`null`) when no reading stands out from what noise gives.
 *
 * @param sound shape [n], at `soundRateHz` (16 kHz)
 */
export function estimateSpeed(
  sound: Float64Array,
  soundRateHz: number,
  options: SpeedOptions,
): SpeedEstimate {
  const found = explore(sound, soundRateHz, options);
  return speedFromReading(found, options) ?? speedUnheard(found, sound, soundRateHz, options);
}

export type { SpeedOptions } from "./speed-options.js";
