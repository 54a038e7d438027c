import { bendToTurns } from "./bend-course.js";
import { candidateCourses, type Course } from "./candidate-courses.js";
import { toneEmissions, turnEmissions } from "./emissions.js";
import type { ShortTime } from "./frame-evidence.js";
import { CAGE, FRONT_BELT, TOP_BELT, type OtherPart } from "./family-scan.js";
import { frameTimes } from "./frame-times.js";
import { halfRate } from "./half-rate.js";
import {
  judgeCourse,
  tightenedCourse,
  type CourseJudge,
  type JudgedCourse,
} from "./judge-course.js";
import { onlyEven, turnStrength } from "./hearing.js";
import { HIGH_FROM_HZ, logEnvelopes } from "./log-envelope.js";
import { logGrid } from "./log-grid.js";
import { motorAlone } from "./motor-alone.js";
import { findMainsComb, type MainsComb } from "./mains-comb.js";
import { placeNear, readingAt, type Reading } from "./reading.js";
import { soundComesAndGoes } from "./movement.js";
import {
  speedAsTold,
  speedFromReading,
  speedFromSlowTurns,
  speedOfMotor,
  speedUnheard,
  type SpeedFrame,
} from "./say-speed.js";
import { sweepCourses } from "./sweep-courses.js";
import { findSlowTurns, type SlowSearch, type SlowTurns } from "./slow-turns.js";
import type { Exploration } from "./exploration.js";
import type { SpeedOptions } from "./speed-options.js";
import type { Movement, SpeedEstimate } from "./speed-estimate.js";
import { toneFrames } from "./tone-frames.js";
import { toneSources } from "./tone-source.js";
import { turnFrames } from "./turn-frames.js";

// Relative change of speed per second that the short-time search tries.
const CHIRPS = [-0.16, -0.07, -0.025, 0, 0.025, 0.07, 0.16];
// Run-ups and brakings that fit into a short clip are steeper.
const STEEP_CHIRPS = [-0.3, ...CHIRPS, 0.3];
const STEEP_UNTIL_SECONDS = 25;
const SPIN_RANGE_HZ: readonly [number, number] = [1.6, 27.5];
/** Readings worth a second look, by their odds and by the strength of their modulation. */
const LOOK_AT = 2;
const SWEEPS_KEPT = 3;

/** A told speed beyond what washers do, as on a test rig, widens the search to it. */
function rangeFor(toldDrumRpm: number | undefined): readonly [number, number] {
  const [low, high] = SPIN_RANGE_HZ;
  return [low, Math.max(high, 1.1 * ((toldDrumRpm ?? 0) / 60))];
}

// A front loader holds half of its lowest spin speed for pre-spins, a top loader goes straight up.
function leastSteadyHz({ washer }: SpeedOptions): number {
  const least = washer.profiles.map(
    ({ axis, spinRpm }) => (axis === "vertical" ? 0.85 : 0.5) * spinRpm.low,
  );
  return Math.min(...least) / 60;
}

function otherParts({ washer }: SpeedOptions): OtherPart[] {
  const belted = washer.profiles.filter(({ drive }) => drive === "belt");
  const front = belted.some(({ axis }) => axis === "horizontal");
  const top = belted.some(({ axis }) => axis === "vertical");
  return [CAGE, ...(front ? FRONT_BELT : []), ...(top ? TOP_BELT : [])];
}

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
  const turning = options.phase === "spin" || options.phase === "coast";
  // Pumps and music beat below 400 Hz: those octaves count only where a drum turns for certain.
  const lowHz = turning ? options.bandHz[0] : Math.max(HIGH_FROM_HZ, options.bandHz[0]);
  const envelopes = logEnvelopes(sound, soundRateHz, [lowHz, options.bandHz[1]], {
    ...(options.usable === undefined ? {} : { usable: options.usable }),
  });
  const judge: CourseJudge = {
    input: { sound: half, soundRateHz: rateHz, envelopes, usable, mainsHz: mains.exactHz },
    sources: toneSources(options.washer),
    bandHz: options.bandHz,
    drumHz: rangeFor(options.toldDrumRpm),
    mainsHz: mains.exactHz,
    others: otherParts(options),
    toldDrumHz: options.toldDrumRpm === undefined ? null : options.toldDrumRpm / 60,
    toldMotorHz: options.toldMotorRpm === undefined ? null : options.toldMotorRpm / 60,
    lineHz: mains.lineHz,
    turning,
    coasting: options.phase === "coast",
    leastSteadyHz: leastSteadyHz(options),
    topHz: Math.max(...options.washer.profiles.map((profile) => profile.spinRpm.high)) / 60,
  };
  return { judge, mains };
}

function shortTimeOf(judge: CourseJudge): ShortTime {
  const { sound, soundRateHz, envelopes, usable, mainsHz } = judge.input;
  const times = { ...frameTimes(sound.length / soundRateHz), usable };
  const [low, high] = judge.drumHz;
  const chirps = sound.length / soundRateHz < STEEP_UNTIL_SECONDS ? STEEP_CHIRPS : CHIRPS;
  const lowTone = Math.max(12, Math.min(...judge.sources.map((s) => s.lowRatio)) * low);
  const highTone = Math.min(1600, Math.max(...judge.sources.map((s) => s.highRatio)) * high);
  return {
    chirps,
    turns: turnEmissions(turnFrames(envelopes, times, chirps), logGrid(low, high)),
    tones: toneEmissions(
      toneFrames(sound, soundRateHz, times, chirps, mainsHz),
      logGrid(lowTone, highTone),
      judge.bandHz,
    ),
  };
}

function worthALook(readings: readonly Reading[]): Set<Reading> {
  const byOdds = [...readings].sort((a, b) => b.odds - a.odds);
  const byStrength = [...readings].sort(
    (a, b) => turnStrength(b.hearing) - turnStrength(a.hearing),
  );
  return new Set([...byOdds.slice(0, LOOK_AT), ...byStrength.slice(0, LOOK_AT)]);
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
  const seconds = sound.length / soundRateHz;
  const judgedAlong = new Map<Course, JudgedCourse>();
  const read = (course: Course): Reading[] => {
    const judged = judgedAlong.get(course) ?? judgeCourse(judge, course);
    judgedAlong.set(course, judged);
    const places = new Set(judged.places);
    return Array.from(places, (place) => {
      const reading = readingAt(judge, shortTime, judged, place);
      // Looked at in turn, as a set is while it grows.
      if (onlyEven(reading.hearing)) places.add(placeNear(judged.joint, 2 * reading.drumHz));
      return reading;
    });
  };
  // Two readings of one course are tightened to the same.
  const known = new Set<JudgedCourse>();
  const tightened = (judged: JudgedCourse): Reading[] => {
    const tight = known.has(judged) ? null : tightenedCourse(judged);
    known.add(judged);
    return tight === null ? [] : read(tight);
  };
  const search = {
    envelopes: judge.input.envelopes,
    frameCount: turns.frameCount,
    seconds,
    rangeHz: judge.drumHz,
    coasting: judge.coasting,
  };
  const readings = [
    ...candidateCourses(turns, tones, judge.sources, shortTime.chirps),
    ...sweepCourses(search, SWEEPS_KEPT),
  ].flatMap(read);
  for (const reading of worthALook(readings)) {
    readings.push(...tightened(reading.judged));
    if (!reading.judged.prior.steady) {
      readings.push(...read(bendToTurns(judge.input, reading.judged.course, reading.drumHz)));
    }
  }
  readings.sort((a, b) => b.odds - a.odds);
  return { judge, shortTime, mains, readings };
}

const SLOW_FROM_SECONDS = 20;
const SLOW_HEARD = 5;

interface Clip {
  readonly sound: Float64Array;
  readonly soundRateHz: number;
  readonly options: SpeedOptions;
}

function slowTurnsOf(
  { sound, soundRateHz, options }: Clip,
  range: Pick<SlowSearch, "lowHz" | "highHz" | "losses" | "likelyHz">,
): SlowTurns | null {
  const seconds = sound.length / soundRateHz;
  const { usable } = frameTimes(seconds, options.usable);
  const turns = findSlowTurns(sound, soundRateHz, { ...range, bandHz: options.bandHz, usable });
  return turns !== null && turns.strength >= SLOW_HEARD ? turns : null;
}

/** A front loader in the wash: turning to and fro at 40-60 rpm. */
function tumbling(clip: Clip, frame: SpeedFrame): SpeedEstimate {
  const { sound, soundRateHz, options } = clip;
  const goes: Movement = soundComesAndGoes(sound, soundRateHz) ? "stop-and-go" : "unknown";
  const spans = options.washer.profiles.flatMap((p) => (p.tumbleRpm ? [p.tumbleRpm] : []));
  const told = options.toldDrumRpm;
  const likelyHz = (told ?? spans[0]?.typical ?? 47) / 60;
  const turns =
    sound.length / soundRateHz < SLOW_FROM_SECONDS
      ? null
      : slowTurnsOf(clip, { lowHz: 0.55, highHz: 1.25, losses: [0], likelyHz });
  if (turns === null) return speedUnheard(frame, goes, ["no-speed-heard", "tumble-range-only"]);
  return speedFromSlowTurns(turns, frame, goes === "unknown" ? "steady" : goes, options);
}

/** Turned by hand and left to run out. */
function handTurned(clip: Clip, frame: SpeedFrame): SpeedEstimate {
  const range = { lowHz: 0.3, highHz: 2.2, losses: [0, 0.4, 0.8, 1.3], likelyHz: null };
  const turns = slowTurnsOf(clip, range);
  if (turns === null) return speedUnheard(frame, "unknown", ["no-speed-heard"]);
  const falling = turns.course[0]! > turns.course.at(-1)! + 0.1;
  return speedFromSlowTurns(turns, frame, falling ? "falling" : "steady", clip.options);
}

function spinning({ sound, soundRateHz, options }: Clip): SpeedEstimate {
  const found = explore(sound, soundRateHz, options);
  const heard = speedFromReading(found, options);
  if (heard !== null) return heard;
  const goes = soundComesAndGoes(sound, soundRateHz);
  const frameCount = frameTimes(sound.length / soundRateHz).centres.length;
  const frame: SpeedFrame = { mains: found.mains, frameCount };
  const unheard = speedUnheard(frame, goes ? "stop-and-go" : "unknown", ["no-speed-heard"]);
  const told = options.toldDrumRpm;
  if (told !== undefined) return speedAsTold(unheard, told);
  const motor = motorAlone(found);
  return motor === null ? unheard : speedOfMotor(unheard, motor);
}

/**
 * Drum and motor speed over time, from sound alone.
 *
 * Looks for one course of speed that explains both the once-per-turn modulation of the noise (at 1, 2, 3
 * per drum turn) and the tones of the motor (at multiples of its own rotation, or of the poles of a
 * direct drive), at a ratio the machine can have. Short-time scores give candidate courses (Viterbi over
 * speed and its rate of change); each is taken out of the clip by angular resampling and judged over the
 * whole clip. Says nothing (`null`) when no reading stands out from what noise gives, when the drum
 * stands (fill, drain, agitation in a held basket), and for tumbling in clips under 20 s.
 *
 * @param sound shape [n], at `soundRateHz` (16 kHz), any gain
 * @returns points every 0.5 s; intervals hold the speed in nine of ten clips in which it was found
 */
export function estimateSpeed(
  sound: Float64Array,
  soundRateHz: number,
  options: SpeedOptions,
): SpeedEstimate {
  const clip: Clip = { sound, soundRateHz, options };
  const vertical = options.washer.profiles.every((profile) => profile.axis === "vertical");
  const seconds = sound.length / soundRateHz;
  const frame = (): SpeedFrame => ({
    mains: findMainsComb(halfRate(sound), soundRateHz / 2, options.bandHz, options.toldLineHz),
    frameCount: frameTimes(seconds).centres.length,
  });
  switch (options.phase) {
    case "fill":
    case "drain":
      return speedUnheard(frame(), "still", ["no-speed-heard"]);
    case "wash":
      return vertical
        ? speedUnheard(frame(), "stop-and-go", ["no-speed-heard"])
        : tumbling(clip, frame());
    case "hand-spin":
      return handTurned(clip, frame());
    case "spin":
    case "coast":
    case "unknown":
      return spinning(clip);
  }
}

export type { SpeedOptions } from "./speed-options.js";
