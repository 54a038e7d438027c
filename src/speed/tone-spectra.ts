import type { TurnClock } from "../signal/angular.js";
import { fftPlan } from "../signal/fft-plan.js";
import { windowOf } from "../signal/window.js";
import { clockTimes, usableShare } from "./course-clock.js";
import { inDeviations, type LineSpectrum } from "./line-spectrum.js";
import type { StraightenInput } from "./straighten-input.js";
import { backgroundOf, meanFrame, whitenFrame } from "./whiten.js";

const TONE_LENGTH = 8192;
const LEAST_SPREAD = 0.1;
const MOST_BLOCKS = 45;

// In straightened time the mains wander: line k stands at k f_L over the relative speed of the moment.
function silenceMains(frame: Float64Array, binHz: number, mainsHz: number, speeds: number[]): void {
  const [early, middle, late] = speeds as [number, number, number];
  for (let k = 1; k <= 24; k++) {
    const low = (k * mainsHz) / Math.max(early, middle, late) - 1.8 * binHz;
    const high = (k * mainsHz) / Math.min(early, middle, late) + 1.8 * binHz;
    const last = Math.min(frame.length - 1, Math.ceil(high / binHz));
    for (let j = Math.max(0, Math.floor(low / binHz)); j <= last; j++) {
      if (frame[j]! > 0) frame[j] = 0;
    }
  }
}

function speedAt(clock: TurnClock, seconds: number): number {
  const last = clock.turns.length - 1;
  const i = Math.max(1, Math.min(last - 1, Math.round(seconds * clock.sampleRateHz)));
  return ((clock.turns[i + 1]! - clock.turns[i - 1]!) * clock.sampleRateHz) / 2;
}

/** Tones along a course: blocks of 1 s, averaged without phase. `sound` is already straightened. */
export function toneSpectra(
  input: StraightenInput,
  sound: Float64Array,
  clock: TurnClock,
): { tone: LineSpectrum; frames: Float64Array[]; seconds: number[] } {
  const { soundRateHz: rateHz, usable, mainsHz } = input;
  const length = Math.min(TONE_LENGTH, sound.length);
  // A minute or more needs no overlap.
  const hop = Math.max(TONE_LENGTH / 2, Math.floor(sound.length / MOST_BLOCKS));
  const binHz = rateHz / TONE_LENGTH;
  const count = Math.floor(3700 / binHz);
  const window = windowOf("hann", length);
  const block = new Float64Array(TONE_LENGTH);
  const bins = new Float64Array(2 * TONE_LENGTH);
  const starts: number[] = [];
  for (let start = 0; start + length <= sound.length; start += hop) starts.push(start);
  const middles = clockTimes(
    clock,
    starts.map((start) => (start + length / 2) / rateHz + clock.turns[0]!),
  );
  const frames: Float64Array[] = [];
  const seconds: number[] = [];
  starts.forEach((start, i) => {
    const middle = middles[i]!;
    if (usableShare(usable, middle - 0.5, middle + 0.5) < 0.5) return;
    block.fill(0);
    for (let j = 0; j < length; j++) block[j] = sound[start + j]! * window[j]!;
    fftPlan(TONE_LENGTH).forwardReal(block, bins);
    const frame = new Float64Array(count);
    for (let k = 0; k < count; k++) {
      frame[k] = Math.log(bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2 + 1e-18);
    }
    frames.push(frame);
    seconds.push(middle);
  });
  if (frames.length === 0) {
    return { tone: { z: new Float64Array(count), spread: 1, binHz }, frames, seconds };
  }
  const background = backgroundOf(meanFrame(frames), binHz, 40);
  frames.forEach((frame, i) => {
    whitenFrame(frame, background, Math.round(60 / binHz));
    if (mainsHz === null) return;
    const near = [-0.4, 0, 0.4].map((offset) => speedAt(clock, seconds[i]! + offset));
    silenceMains(frame, binHz, mainsHz, near);
  });
  const tone = inDeviations(meanFrame(frames), Math.round(50 / binHz), binHz, LEAST_SPREAD);
  return { tone, frames, seconds };
}
