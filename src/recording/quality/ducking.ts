import { mean, median, robustDeviation } from "../../foundation/statistics.js";
import { meanDb, type Levels } from "./levels.js";

const APART_FRAMES = 28;
const FEWEST_EVENTS = 4;
const SMALLEST_STEP_DB = 1.5;

/**
 * Frames in which a loud event peaks: two octaves or more rise by 6 dB over the 150 ms before, and no other
 * event lies within 0.45 s.
 */
export function loudEvents(levels: Levels): number[] {
  const { frameCount } = levels.frames;
  const onsets: number[] = [];
  for (let f = 14; f + 14 < frameCount; f++) {
    const rises = levels.bandDb
      .map((band) => band[f]! - meanDb(band, f - 12, f - 2))
      .sort((a, b) => b - a);
    if ((rises[0]! + rises[1]!) / 2 < 6) continue;
    onsets.push(f);
    f += 8;
  }
  return onsets.filter(
    (at, i) =>
      at - (onsets[i - 1] ?? -APART_FRAMES) >= APART_FRAMES &&
      (onsets[i + 1] ?? at + APART_FRAMES) - at >= APART_FRAMES,
  );
}

// Value at frame `at` of the straight line through the levels of [from, to).
function lineAt(levelDb: Float64Array, from: number, to: number, at: number): number {
  const middle = (from + to - 1) / 2;
  const average = meanDb(levelDb, from, to);
  let sxy = 0;
  let sxx = 0;
  for (let f = from; f < to; f++) {
    sxy += (f - middle) * (levelDb[f]! - average);
    sxx += (f - middle) ** 2;
  }
  return average + (sxy / sxx) * (at - middle);
}

/** Step of a level across an event by three readings, dB; negative is down. */
function stepReadings(levelDb: Float64Array, event: number): [number, number, number] {
  const just = meanDb(levelDb, event + 4, event + 7);
  const before = meanDb(levelDb, event - 6, event - 2);
  return [
    just - before,
    lineAt(levelDb, event + 4, event + 13, event) - lineAt(levelDb, event - 14, event - 2, event),
    just - lineAt(levelDb, event - 14, event - 2, event + 5),
  ];
}

interface Step {
  readonly db: number;
  readonly error: number;
}

/**
 * Median step over the events (one may be a start, not a blow), by the reading that shows the least.
 *
 * Loudness that swings with the drum falls after a blow as well, but smoothly: plainly compared it may look
 * like a step, carried on from the trend before it does not, or the other way round.
 */
function stepAcross(levelDb: Float64Array, events: readonly number[]): Step {
  const readings = events.map((event) => stepReadings(levelDb, event));
  const steps = [0, 1, 2].map((r) => {
    const values = readings.map((reading) => reading[r]!);
    return {
      db: median(values),
      error: (1.25 * robustDeviation(values)) / Math.sqrt(values.length),
    };
  });
  return steps.reduce((least, step) => (step.db > least.db ? step : least));
}

/** Bins of steady tones: 10 dB over their neighbours in the median, by the median over the clip. */
function steadyToneBins(levels: Levels): number[] {
  const { power, binCount, frameCount } = levels.frames;
  const rows = Math.min(200, frameCount);
  const stride = Math.max(1, Math.floor(frameCount / rows));
  const medians = new Float64Array(binCount);
  for (let k = 2; k < binCount; k++) {
    const column = new Float64Array(Math.floor(frameCount / stride));
    for (let i = 0; i < column.length; i++) {
      column[i] = 10 * Math.log10(power[i * stride * binCount + k]! + 1e-15);
    }
    column.sort();
    medians[k] = column[column.length >> 1]!;
  }
  const tones: number[] = [];
  for (let k = 3; k < binCount - 4; k++) {
    if (medians[k]! < medians[k - 1]! || medians[k]! < medians[k + 1]!) continue;
    const around = median([k - 4, k - 3, k + 3, k + 4].map((j) => medians[Math.max(2, j)]!));
    if (medians[k]! - around >= 10) tones.push(k);
  }
  return tones;
}

function toneLevelsDb(levels: Levels, bins: readonly number[]): Float64Array {
  const { power, binCount, frameCount } = levels.frames;
  const out = new Float64Array(frameCount);
  for (let f = 0; f < frameCount; f++) {
    for (const k of bins) out[f]! += 10 * Math.log10(power[f * binCount + k]! + 1e-15);
    out[f]! /= bins.length;
  }
  return out;
}

/**
 * After loud events, does everything duck at once?
 *
 * The half of the octaves that ring least must step down by 1.5 dB or more, beyond three standard errors and
 * much alike. Where steady tones stand clear they must step down too: a tone of the machine does not mind
 * a blow, a gain takes it along.
 */
export function ducksAfterEvents(levels: Levels): boolean {
  if (levels.bandDb.length < 3) return false;
  const events = loudEvents(levels);
  if (events.length < FEWEST_EVENTS) return false;
  const bands = levels.bandDb
    .map((db) => ({ db, step: stepAcross(db, events).db }))
    .sort((a, b) => a.step - b.step);
  const dry = bands.slice(0, Math.floor(bands.length / 2) + 1);
  const pooled = levels.middleDb.map((_, f) => mean(dry.map((band) => band.db[f]!)));
  const { db: step, error } = stepAcross(pooled, events);
  if (step > -SMALLEST_STEP_DB || step > -3 * error) return false;
  if (dry[dry.length - 1]!.step > 0.4 * dry[0]!.step) return false;
  const tones = steadyToneBins(levels);
  if (tones.length === 0) return true;
  const toneStep = stepAcross(toneLevelsDb(levels, tones), events).db;
  // Tones that the blow itself drowns say nothing.
  return toneStep < 0.3 * step || toneStep > 1;
}
