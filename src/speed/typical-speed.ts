import { fitLine, mean, median } from "../foundation/statistics.js";
import { FRAME_SECONDS } from "./frame-times.js";
import { longestPlateau, rangeOf, type Steadiness } from "./judge-course.js";
import type { Reading } from "./reading.js";
import { meantBeyond } from "./unheard-ends.js";

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

/** What others would call the speed of a clip that holds none: the longest part within ±1 %, from 2 s. */
const NEARLY: Steadiness = { range: 0.02, seconds: 2 };
/** Such a part stands for the clip by itself from this length on. */
const PART_SECONDS = 3;
/** A part this long, compared with the longest, might have been meant as well. */
const AS_LONG = 0.75;

/** Means of all nearly even parts that are about as long as the longest, which comes first. */
function evenParts(ln: Float64Array): { readonly hz: number; readonly frames: number }[] {
  const longest = longestPlateau(ln, NEARLY);
  if (longest === null) return [];
  const frames = longest[1] - longest[0];
  const parts = [ln.subarray(...longest)];
  const width = Math.ceil(AS_LONG * frames);
  for (let from = 0; from + width <= ln.length; from++) {
    const window = ln.subarray(from, from + width);
    if (rangeOf(window) <= NEARLY.range) parts.push(window);
  }
  return parts.map((part) => ({ hz: Math.exp(mean(part)), frames: part.length }));
}

/**
 * What stands for a clip: speed held the longest, else the longest nearly even part, else the mean. No drum
 * goes beyond `topHz`.
 */
export function typicalOf(
  track: readonly (number | null)[],
  reading: Reading,
  topHz: number,
): Typical {
  const heard = track.filter((hz): hz is number => hz !== null);
  const held = oneSpeed(heard);
  const parts = evenParts(Float64Array.from(heard, Math.log));
  const meant = parts.map(({ hz }) => hz);
  // A speed that is heard to be held stands for the clip whatever else the drum may do.
  if (held !== null) meant.unshift(mean(heard.slice(held[0], held[1])));
  else {
    const longest = parts[0]?.frames ?? 0;
    const whole = Array.from(reading.judged.course, (value) => reading.drumHz * Math.exp(value));
    const most = heard.length >= (1 - READ_ON) * track.length ? whole : heard;
    const beyond = meantBeyond(track, longest, topHz);
    // A hold of two seconds at the top of a run looks like the end of a ramp, and may be what is meant.
    const middles = [mean(most), median(most), Math.max(...most)];
    if (beyond !== null) middles.unshift(beyond.mean, ...beyond.ends);
    const clear = longest * FRAME_SECONDS >= PART_SECONDS;
    if (clear) meant.push(...middles);
    else meant.unshift(...middles);
  }
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
