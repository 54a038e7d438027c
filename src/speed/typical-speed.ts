import { fitLine, mean, median } from "../foundation/statistics.js";
import { longestPlateau, type Steadiness } from "./judge-course.js";
import type { Reading } from "./reading.js";

/** What passes for the one speed of a clip. */
const ONE_SPEED: Steadiness = { range: 0.012, seconds: 3 };
/** A slow ramp stays within a percent for some seconds, too, but keeps moving. */
const MOST_DRIFT = 0.007;

/** Change over a stretch by its straight line. */
const driftOf = (ln: Float64Array): number => fitLine([...ln.keys()], ln).slope * ln.length;

function oneSpeed(heardHz: readonly number[]): readonly [number, number] | null {
  const ln = Float64Array.from(heardHz, (hz) => Math.log(hz));
  const part = longestPlateau(ln, ONE_SPEED);
  if (part === null) return null;
  return Math.abs(driftOf(ln.subarray(part[0], part[1]))) < MOST_DRIFT ? part : null;
}

// A course is read on over the frames in which it is not heard, if these are few.
const READ_ON = 0.35;

/** The one speed that stands for a clip, and what else could be meant by that. */
export interface Typical {
  readonly hz: number;
  /** The drum keeps this speed for a while. */
  readonly held: boolean;
  readonly lowHz: number;
  readonly highHz: number;
}

/** What others would call the speed of a clip that holds none: longest part within ±1 %, from 3 s. */
const NEARLY: Steadiness = { range: 0.02, seconds: 3 };

/** What stands for a clip: the speed held the longest, else the mean. */
export function typicalOf(track: readonly (number | null)[], reading: Reading): Typical {
  const heard = track.filter((hz): hz is number => hz !== null);
  const meanOf = (part: readonly [number, number] | null): number[] =>
    part === null ? [] : [mean(heard.slice(part[0], part[1]))];
  const held = oneSpeed(heard);
  const nearly = meanOf(longestPlateau(Float64Array.from(heard, Math.log), NEARLY));
  const whole = Array.from(reading.judged.course, (value) => reading.drumHz * Math.exp(value));
  const most = heard.length >= (1 - READ_ON) * track.length ? whole : heard;
  const meant =
    held === null ? [mean(most), median(most), ...nearly] : [...meanOf(held), ...nearly];
  return {
    hz: meant[0]!,
    held: held !== null,
    lowHz: Math.min(...meant),
    highHz: Math.max(...meant),
  };
}

/**
 * Relative error of the mean of a speed that moves: its ends and corners weigh on it, and so does what the
 * drum does in frames in which it is not heard. 0 for a speed that is held.
 */
export function spreadUnheard(track: readonly (number | null)[], steady: boolean): number {
  const heard = track.filter((hz): hz is number => hz !== null);
  const range = Math.log(Math.max(...heard) / Math.min(...heard));
  return steady ? 0 : range * (0.01 + 0.4 * (1 - heard.length / track.length));
}
