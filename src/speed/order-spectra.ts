import { median, robustDeviation } from "../foundation/statistics.js";
import { toAngle, type TurnClock } from "../signal/angular.js";
import { fftPlan } from "../signal/fft-plan.js";
import { windowOf } from "../signal/window.js";
import { FRAME_SECONDS } from "./frame-times.js";
import type { LogEnvelopes } from "./log-envelope.js";
import { backgroundOf, meanFrame, whitenFrame } from "./whiten.js";

/** A spectrum in deviations of its own background: about normal(0, 1) where there is no line. */
export interface LineSpectrum {
  readonly z: Float64Array;
  /** One deviation in nepers of power. */
  readonly spread: number;
  /** Hz per bin, as if the drum had kept its reference speed. */
  readonly binHz: number;
}

/** Sound and modulation over frequency after the course of speed has been taken out. */
export interface OrderSpectra {
  readonly tone: LineSpectrum;
  readonly turn: LineSpectrum;
  /** Whitened tone frames (1 s, every 0.5 s of straightened time) and their middles in true seconds. */
  readonly toneFrames: readonly Float64Array[];
  readonly toneSeconds: readonly number[];
}

export interface StraightenInput {
  /** At `soundRateHz`, about 8 kHz. */
  readonly sound: Float64Array;
  readonly soundRateHz: number;
  readonly envelopes: LogEnvelopes;
  /** 1 per frame that may be used. */
  readonly usable: Uint8Array;
  /** Mains frequency whose comb must not pass for a shaft, or null. */
  readonly mainsHz: number | null;
}

const CLOCK_HZ = 200;
const TONE_LENGTH = 8192;
const TURN_SECONDS = 10;

/** Straightened time as a clock; course: ln of relative speed at the frame middles. */
export function courseClock(course: Float64Array, seconds: number): TurnClock {
  const count = Math.floor(seconds * CLOCK_HZ) + 1;
  const turns = new Float64Array(count);
  const last = course.length - 1;
  let before = Math.exp(course[0]!);
  for (let i = 1; i < count; i++) {
    const position = Math.min(last, Math.max(0, i / CLOCK_HZ / FRAME_SECONDS - 0.5));
    const k = Math.min(Math.max(0, last - 1), Math.floor(position));
    const a = course[k]!;
    const b = course[Math.min(last, k + 1)]!;
    const now = Math.exp(a + (position - k) * (b - a));
    turns[i] = turns[i - 1]! + (before + now) / (2 * CLOCK_HZ);
    before = now;
  }
  return { turns, sampleRateHz: CLOCK_HZ };
}

// True time at which the clock reads a value, for evenly rising values.
function clockTimes(clock: TurnClock, values: readonly number[]): number[] {
  let i = 0;
  return values.map((value) => {
    while (i < clock.turns.length - 2 && clock.turns[i + 1]! < value) i++;
    const step = clock.turns[i + 1]! - clock.turns[i]!;
    return (i + (step > 0 ? (value - clock.turns[i]!) / step : 0)) / clock.sampleRateHz;
  });
}

function usableShare(usable: Uint8Array, fromSeconds: number, toSeconds: number): number {
  const from = Math.max(0, Math.floor(fromSeconds / FRAME_SECONDS));
  const to = Math.min(usable.length, Math.ceil(toSeconds / FRAME_SECONDS));
  let good = 0;
  for (let i = from; i < to; i++) good += usable[i]!;
  return to > from ? good / (to - from) : 0;
}

function inDeviations(values: Float64Array, from: number, binHz: number): LineSpectrum {
  const part = values.subarray(Math.min(from, values.length - 1));
  const centre = median(part);
  const spread = robustDeviation(part) + 1e-9;
  return { z: values.map((v) => (v - centre) / spread), spread, binHz };
}

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

function toneSpectra(
  input: StraightenInput,
  sound: Float64Array,
  clock: TurnClock,
): { tone: LineSpectrum; frames: Float64Array[]; seconds: number[] } {
  const { soundRateHz: rateHz, usable, mainsHz } = input;
  const length = Math.min(TONE_LENGTH, sound.length);
  const hop = TONE_LENGTH / 2;
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
  const tone = inDeviations(meanFrame(frames), Math.round(50 / binHz), binHz);
  return { tone, frames, seconds };
}

// Rates at which a recording itself is modulated: codec frames of 20 ms and of 1024 samples at 44.1 and
// 48 kHz, and the mains. They stand still, so they matter only while the drum keeps its speed.
const FRAME_RATES_HZ = [50, 44_100 / 1024, 48_000 / 1024];

function silenceFixedRates(z: Float64Array, binHz: number, mainsHz: number | null): void {
  const rates = mainsHz === null ? FRAME_RATES_HZ : [...FRAME_RATES_HZ, mainsHz];
  for (const rate of rates) {
    for (let k = 1; k * rate < z.length * binHz; k++) {
      const low = Math.max(0, Math.floor((k * rate - 0.3) / binHz));
      const high = Math.min(z.length - 1, Math.ceil((k * rate + 0.3) / binHz));
      for (let j = low; j <= high; j++) if (z[j]! > 0) z[j] = 0;
    }
  }
}

function turnSpectrum(input: StraightenInput, clock: TurnClock, steady: boolean): LineSpectrum {
  const { rows, rateHz } = input.envelopes;
  const { usable } = input;
  const length = Math.round(TURN_SECONDS * rateHz);
  const size = 4096;
  const binHz = rateHz / size;
  const count = Math.floor(95 / binHz);
  const sum = new Float64Array(count);
  const bins = new Float64Array(2 * size);
  for (const row of rows) {
    const straight = toAngle(row, rateHz, clock, rateHz);
    const part = Math.min(length, straight.length);
    const window = windowOf("hann", part);
    const power = new Float64Array(count);
    const blocks = Math.max(1, Math.round((straight.length - part) / (part / 2)) + 1);
    for (let b = 0; b < blocks; b++) {
      const start = blocks === 1 ? 0 : Math.floor((b * (straight.length - part)) / (blocks - 1));
      const [from, to] = clockTimes(clock, [start / rateHz, (start + part) / rateHz]);
      if (usableShare(usable, from!, to!) < 0.5) continue;
      const block = new Float64Array(size);
      for (let j = 0; j < part; j++) block[j] = straight[start + j]! * window[j]!;
      fftPlan(size).forwardReal(block, bins);
      for (let k = 0; k < count; k++) power[k]! += bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
    }
    for (let k = 0; k < count; k++) power[k]! += 1e-12;
    const background = backgroundOf(power, binHz, 2);
    for (let k = 0; k < count; k++) sum[k]! += power[k]! / background[k]!;
  }
  const spectrum = inDeviations(
    sum.map((v) => Math.log(v + 1e-9)),
    Math.round(2 / binHz),
    binHz,
  );
  if (steady) silenceFixedRates(spectrum.z, binHz, input.mainsHz);
  return spectrum;
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
  const turn = turnSpectrum(input, clock, Math.max(...course) - Math.min(...course) < 0.02);
  return { tone, turn, toneFrames: frames, toneSeconds };
}
