import { toAngle } from "../signal/angular.js";
import { courseClock } from "./course-clock.js";
import type { LineSpectrum } from "./line-spectrum.js";
import type { StraightenInput } from "./straighten-input.js";
import { toneSpectra } from "./tone-spectra.js";
import { SPIN_VIEW, turnSpectra } from "./turn-spectra.js";

/** Sound and modulation over frequency after the course of speed has been taken out. */
export interface OrderSpectra {
  readonly tone: LineSpectrum;
  readonly turn: LineSpectrum;
  /** As `turn`, but with the full height of lines, to place them. */
  readonly turnPeaks: LineSpectrum;
  /** Whitened tone frames (1 s, every 0.5 s of straightened time) and their middles in true seconds. */
  readonly toneFrames: readonly Float64Array[];
  readonly toneSeconds: readonly number[];
}

/**
 * Takes a course of speed out of a clip and gives spectra of tones and of modulation along it.
 *
 * Computed order tracking by resampling to even shaft angle; tones from blocks of 1 s and modulation
 * from blocks of 10 s, averaged without phase so that a course need be right to about 0.1 % only.
 *
 * @param course ln of relative speed at the frame middles, mean about 0
 */
export function orderSpectra(input: StraightenInput, course: Float64Array): OrderSpectra {
  const seconds = input.sound.length / input.soundRateHz;
  const clock = courseClock(course, seconds);
  const constant = course.every((v) => Math.abs(v - course[0]!) < 1e-9);
  const straight = constant
    ? input.sound
    : toAngle(input.sound, input.soundRateHz, clock, input.soundRateHz);
  const { tone, frames, seconds: toneSeconds } = toneSpectra(input, straight, clock);
  const modulation = turnSpectra(
    input,
    clock,
    Math.max(...course) - Math.min(...course) < 0.02,
    SPIN_VIEW,
  );
  return {
    tone,
    turn: modulation.turn(),
    turnPeaks: modulation.turnPeaks(),
    toneFrames: frames,
    toneSeconds,
  };
}
