import { mean, variance } from "../../foundation/statistics.js";
import { frameSeconds } from "./frames.js";
import { joinIntervals, runsOf } from "./intervals.js";
import { foregroundOf, type Foreground } from "./pitch.js";
import type { Interval } from "../recording.js";
import type { ListeningCopy } from "./listening-copy.js";

/** A stretch of frames with one gliding pitch. */
export interface VoicedRun {
  readonly first: number;
  readonly last: number;
}

/** What a stretch of about 1.6 s is judged by. */
export interface SpeechSigns {
  /** Share of frames in voiced runs. */
  readonly voicedShare: number;
  /** Voiced runs that begin in the stretch. */
  readonly runCount: number;
  /** Longest voiced run, seconds. */
  readonly longestSeconds: number;
  /** Spread of pitch over the voiced frames, octaves (standard deviation). */
  readonly pitchSpread: number;
  /** Change of spectral shape over the voiced frames, in ln units (rms over six bands). */
  readonly shapeChange: number;
  /** Spread of the level of 300-3400 Hz over the background, dB. */
  readonly levelSpread: number;
  /** Highest autocorrelation of that level at 0.12-1.6 s: 1 for a drum or a stroke that repeats. */
  readonly regularity: number;
}

const CLARITY = 3.2;
const CLEAR = 4.2;
const STEP_OCTAVES = 0.18;
const SHAPE_EDGES_HZ = [200, 450, 750, 1150, 1700, 2400, 3400] as const;

const hasClear = (clarity: Float64Array, from: number, to: number): boolean =>
  clarity.subarray(from, to).some((value) => value >= CLEAR);

/** Runs of at least three frames in which a clear pitch moves by less than an eighth of an octave a frame. */
export function voicedRuns(foreground: Foreground): VoicedRun[] {
  const runs: VoicedRun[] = [];
  const { clarity, pitchHz } = foreground;
  let first = -1;
  for (let f = 0; f <= clarity.length; f++) {
    const voiced = f < clarity.length && clarity[f]! >= CLARITY;
    const linked =
      voiced && first >= 0 && Math.abs(Math.log2(pitchHz[f]! / pitchHz[f - 1]!)) < STEP_OCTAVES;
    if (voiced && (first < 0 || linked)) {
      if (first < 0) first = f;
      continue;
    }
    if (first >= 0 && f - first >= 3 && hasClear(clarity, first, f))
      runs.push({ first, last: f - 1 });
    first = voiced ? f : -1;
  }
  return runs;
}

function shapeOf(foreground: Foreground, frame: number): number[] {
  const { binCount, binHz } = foreground.frames;
  const bands = SHAPE_EDGES_HZ.slice(1).map((high, i) => {
    let sum = 0;
    const from = Math.ceil(SHAPE_EDGES_HZ[i]! / binHz);
    const to = Math.min(binCount - 1, Math.floor(high / binHz));
    for (let k = from; k <= to; k++) sum += foreground.excess[frame * binCount + k]!;
    return sum / Math.max(1, to - from + 1);
  });
  const centre = mean(bands);
  return bands.map((band) => band - centre);
}

function shapeChange(foreground: Foreground, voiced: readonly number[]): number {
  if (voiced.length < 4) return 0;
  const shapes = voiced.map((f) => shapeOf(foreground, f));
  return Math.sqrt(
    mean(SHAPE_EDGES_HZ.slice(1).map((_, i) => variance(shapes.map((shape) => shape[i]!)))),
  );
}

/** Highest autocorrelation of a level curve between two lags. */
export function regularity(
  levels: Float64Array,
  from: number,
  to: number,
  lags: readonly [shortest: number, longest: number],
): number {
  const part = levels.subarray(Math.max(0, from), Math.min(levels.length, to));
  const centre = mean(part);
  const power = variance(part) * part.length;
  let best = 0;
  let falling = false;
  let last = 1;
  for (let lag = 1; lag <= Math.min(lags[1], part.length >> 1); lag++) {
    let sum = 0;
    for (let i = lag; i < part.length; i++) sum += (part[i]! - centre) * (part[i - lag]! - centre);
    const value = (sum / power) * (part.length / (part.length - lag));
    // Only a peak after the first fall counts: neighbouring frames always resemble each other.
    if (value < 0.3) falling = true;
    if (falling && lag >= lags[0] && value > last) best = Math.max(best, value);
    last = value;
  }
  return best;
}

/** The signs of speech in frames [from, to). */
export function speechSigns(
  foreground: Foreground,
  runs: readonly VoicedRun[],
  from: number,
  to: number,
): SpeechSigns {
  const hop = foreground.frames.hopSeconds;
  const inside = runs.filter((run) => run.last >= from && run.first < to);
  const voiced = inside.flatMap((run) => {
    const start = Math.max(from, run.first);
    const count = Math.min(to - 1, run.last) - start + 1;
    return Array.from({ length: count }, (_, i) => start + i);
  });
  const octaves = voiced.map((f) => Math.log2(foreground.pitchHz[f]!));
  const wide = Math.round(2.5 / hop);
  const middle = (from + to) >> 1;
  return {
    voicedShare: voiced.length / (to - from),
    runCount: inside.filter((run) => run.first >= from).length,
    longestSeconds: hop * Math.max(0, ...inside.map((run) => run.last - run.first + 1)),
    pitchSpread: octaves.length < 4 ? 0 : Math.sqrt(variance(octaves)),
    shapeChange: shapeChange(foreground, voiced),
    levelSpread: Math.sqrt(variance(foreground.levelDb.subarray(from, to))),
    regularity: regularity(foreground.levelDb, middle - wide, middle + wide, [
      Math.round(0.12 / hop),
      Math.round(1.6 / hop),
    ]),
  };
}

/** True where all signs agree on a voice. */
export function soundsLikeSpeech(signs: SpeechSigns): boolean {
  return (
    signs.voicedShare >= 0.25 &&
    signs.runCount >= 2 &&
    signs.longestSeconds <= 1.3 &&
    signs.pitchSpread >= 0.03 &&
    signs.pitchSpread <= 0.5 &&
    signs.shapeChange >= 0.18 &&
    signs.levelSpread >= 4 &&
    signs.regularity < 0.65
  );
}

/**
 * Where someone speaks over the machine.
 *
 * A stretch of 1.6 s is speech when voiced runs of moving pitch come and go, the spectral shape changes
 * with them (formants), and the level does not repeat as a drum's or a stroke's does.
 */
export function findSpeech(copy: ListeningCopy): Interval[] {
  const foreground = foregroundOf(copy);
  const { frames } = foreground;
  const runs = voicedRuns(foreground);
  const width = Math.round(1.6 / frames.hopSeconds);
  const step = Math.max(1, Math.round(0.25 / frames.hopSeconds));
  const flags = new Uint8Array(frames.frameCount);
  let before = false;
  for (let from = 0; from + Math.min(width, 40) <= frames.frameCount; from += step) {
    const to = Math.min(frames.frameCount, from + width);
    const now = soundsLikeSpeech(speechSigns(foreground, runs, from, to));
    // One stretch alone is chance; two that overlap are a sentence.
    if (now && before) {
      for (const run of runs) {
        if (run.last >= from - step && run.first < to) flags.fill(1, run.first, run.last + 1);
      }
    }
    before = now;
  }
  // Consonants and short pauses between voiced runs belong to the sentence.
  const bridge = Math.round(0.6 / frames.hopSeconds);
  const found = runsOf(flags, bridge).map(([first, last]) => ({
    startSeconds: frameSeconds(frames, first) - frames.windowSeconds / 2,
    endSeconds: frameSeconds(frames, last) + frames.windowSeconds / 2,
  }));
  const sentences = found.filter((it) => it.endSeconds - it.startSeconds >= 0.4);
  return joinIntervals(sentences, copy.samples.length / copy.sampleRateHz);
}
