import { mean, median, quantile, variance } from "../../foundation/statistics.js";
import { coarseRunningMedian } from "../../signal/running-median.js";
import { framesOf } from "./frames.js";
import { meanDb, type Levels } from "./levels.js";
import type { ListeningCopy } from "./listening-copy.js";

/** Level after loud events against the level before them, averaged over the events. */
export interface DipCurve {
  /** Shape [lagCount]; dB, by lag in frames from `firstLag`. */
  readonly db: Float64Array;
  /** Standard error of the deepest point, dB. */
  readonly error: number;
  readonly eventCount: number;
}

const FIRST_LAG = 4;
const LAST_LAG = 56;
const PRE_FROM = 12;
const PRE_TO = 3;

/** Frames in which a loud event begins: 6 dB over the 150 ms before, a quarter second apart. */
export function loudEvents(levels: Levels): number[] {
  const { frameCount } = levels.frames;
  const events: number[] = [];
  const loudest = new Float64Array(frameCount);
  for (let f = 0; f < frameCount; f++) {
    let sum = 0;
    for (const band of levels.bandDb) sum += 10 ** (band[f]! / 10);
    loudest[f] = 10 * Math.log10(sum + 1e-15);
  }
  for (let f = PRE_FROM; f < frameCount - FIRST_LAG; f++) {
    if (loudest[f]! - meanDb(loudest, f - PRE_FROM, f - PRE_TO + 1) < 6) continue;
    let top = f;
    for (let g = f; g < Math.min(frameCount, f + 6); g++) if (loudest[g]! > loudest[top]!) top = g;
    events.push(top);
    f = top + 14;
  }
  return events;
}

function dipCurve(levelDb: Float64Array, events: readonly number[]): DipCurve {
  const sums = new Float64Array(LAST_LAG + 1);
  const counts = new Float64Array(LAST_LAG + 1);
  const early: number[] = [];
  events.forEach((event, i) => {
    const pre = meanDb(levelDb, event - PRE_FROM, event - PRE_TO + 1);
    const end = Math.min(levelDb.length, (events[i + 1] ?? Infinity) - PRE_TO, event + LAST_LAG + 1);
    for (let f = event + FIRST_LAG; f < end; f++) {
      sums[f - event]! += levelDb[f]! - pre;
      counts[f - event]!++;
    }
    early.push(meanDb(levelDb, event + 6, event + 12) - pre);
  });
  const needed = Math.max(3, events.length / 2);
  const lagCount = counts.findIndex((count, lag) => lag >= FIRST_LAG && count < needed);
  const last = lagCount < 0 ? LAST_LAG + 1 : lagCount;
  const db = new Float64Array(Math.max(0, last - FIRST_LAG));
  for (let j = 0; j < db.length; j++) db[j] = sums[FIRST_LAG + j]! / counts[FIRST_LAG + j]!;
  return { db, error: Math.sqrt(variance(early) / early.length), eventCount: events.length };
}

/** Bins of steady tones: 10 dB over their neighbours in the median, and still between events. */
function steadyToneBins(levels: Levels): number[] {
  const { power, binCount, frameCount } = levels.frames;
  const rows = Math.min(200, frameCount);
  const stride = Math.max(1, Math.floor(frameCount / rows));
  const medians = new Float64Array(binCount);
  const spreads = new Float64Array(binCount);
  for (let k = 2; k < binCount; k++) {
    const column = new Float64Array(Math.floor(frameCount / stride));
    for (let i = 0; i < column.length; i++) {
      column[i] = 10 * Math.log10(power[i * stride * binCount + k]! + 1e-15);
    }
    column.sort();
    medians[k] = column[column.length >> 1]!;
    // Noise has its lower quartile 3.8 dB under the median; a tone in quiet surroundings hardly moves.
    spreads[k] = medians[k]! - column[column.length >> 2]!;
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

interface Dip {
  readonly depthDb: number;
  readonly lag: number;
}

function deepest(curve: Float64Array): Dip {
  let lag = 0;
  for (let j = 1; j < curve.length; j++) if (curve[j]! < curve[lag]!) lag = j;
  return { depthDb: -(curve[lag] ?? 0), lag };
}

/**
 * After loud events, does everything duck and come back?
 *
 * The half of the octaves that ring least must fall by 2 dB or more below where they were before the
 * event, all alike within 2.5 dB, and come back. Noise that swells once a turn falls as well, so steady tones
 * must duck too; without a tone the level must have been even before the event, and the events half a
 * second apart.
 */
export function ducksAfterEvents(levels: Levels): boolean {
  const events = loudEvents(levels);
  if (events.length < 3 || levels.bandDb.length < 3) return false;
  const curves = levels.bandDb.map((band) => dipCurve(band, events));
  const dips = curves
    .map((curve) => ({ ...deepest(curve.db), curve }))
    .sort((a, b) => b.depthDb - a.depthDb);
  const dry = dips.slice(0, Math.ceil(dips.length / 2) + 1);
  const depth = mean(dry.map((dip) => dip.depthDb));
  const error = Math.sqrt(mean(dry.map((dip) => dip.curve.error ** 2)));
  if (depth < 2 || depth < 4 * error) return false;
  if (dry[0]!.depthDb - dry[dry.length - 1]!.depthDb > Math.max(2.5, 0.4 * depth)) return false;
  const tones = steadyToneBins(levels);
  if (tones.length > 0) {
    const tone = dipCurve(toneLevelsDb(levels, tones), events);
    return deepest(tone.db).depthDb >= 0.5 * depth;
  }
  return kinksAtEvents(levels, events, depth, dry);
}

function kinksAtEvents(
  levels: Levels,
  events: readonly number[],
  depth: number,
  dry: readonly (Dip & { readonly curve: DipCurve })[],
): boolean {
  const gaps = events.slice(1).map((event, i) => event - events[i]!);
  if (median(gaps) * levels.frames.hopSeconds < 0.5) return false;
  const drift = mean(
    levels.bandDb.map((band) =>
      mean(
        events
          .filter((event) => event > 26)
          .map(
            (event) =>
              meanDb(band, event - PRE_FROM, event - PRE_TO + 1) -
              meanDb(band, event - 25, event - 14),
          ),
      ),
    ),
  );
  return Math.abs(drift) < 0.35 * depth && median(dry.map((dip) => dip.lag)) <= 12;
}

const HUM_LINES_HZ = [100, 120, 200, 240, 300, 360] as const;
const HUM_RATE_HZ = 1000;

/** The copy at about 1 kHz: two running means, good for 25 dB of alias rejection. */
function humCopy(copy: ListeningCopy): { samples: Float64Array; rateHz: number } {
  const factor = Math.max(1, Math.floor(copy.sampleRateHz / HUM_RATE_HZ));
  const { samples } = copy;
  const boxes = new Float64Array(Math.floor(samples.length / factor));
  for (let m = 0; m < boxes.length; m++) {
    let sum = 0;
    for (let i = 0; i < factor; i++) sum += samples[m * factor + i]!;
    boxes[m] = sum / factor;
  }
  return { samples: boxes, rateHz: copy.sampleRateHz / factor };
}

/** Level of the mains lines that stand 12 dB clear, every 64 ms, dB; null when there are none. */
function humLevelDb(copy: ListeningCopy): { db: Float64Array; hopSeconds: number } | null {
  const { samples, rateHz } = humCopy(copy);
  const frames = framesOf(samples, rateHz, 256, 64, 450);
  const { power, binCount, binHz, frameCount } = frames;
  if (frameCount < 40) return null;
  const typical = new Float64Array(binCount);
  const column = new Float64Array(frameCount);
  for (let k = 1; k < binCount; k++) {
    for (let f = 0; f < frameCount; f++) column[f] = power[f * binCount + k]!;
    typical[k] = 10 * Math.log10(quantile(column, 0.3) + 1e-15);
  }
  const lines = HUM_LINES_HZ.map((hz) => Math.round(hz / binHz)).filter((k) => {
    const around = [k - 7, k - 6, k - 5, k + 5, k + 6, k + 7].map((j) => typical[j] ?? 0);
    return typical[k]! - Math.max(...around) >= 12;
  });
  if (lines.length === 0) return null;
  const db = new Float64Array(frameCount);
  for (let f = 0; f < frameCount; f++) {
    for (const k of lines) {
      const row = f * binCount + k;
      db[f]! += 10 * Math.log10(power[row - 1]! + power[row]! + power[row + 1]! + 1e-15);
    }
    db[f]! /= lines.length;
  }
  return { db, hopSeconds: frames.hopSeconds };
}

function correlation(a: Float64Array, b: Float64Array): number {
  const meanA = mean(a);
  const meanB = mean(b);
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i]! - meanA) * (b[i]! - meanB);
  return sum / (a.length * Math.sqrt(variance(a) * variance(b)) + 1e-12);
}

/**
 * Does the mains hum, which the machine cannot turn down, sink whenever the rest grows louder?
 *
 * Both levels are freed of changes slower than 4 s, so a pump that stops as the spin begins does not count.
 */
export function humCounteracts(copy: ListeningCopy, levels: Levels): boolean {
  const hum = humLevelDb(copy);
  if (hum === null) return false;
  const ratio = hum.hopSeconds / levels.frames.hopSeconds;
  const width = Math.round(0.256 / levels.frames.hopSeconds);
  const rest = Float64Array.from(hum.db, (_, i) => {
    const from = Math.round(i * ratio);
    return mean(levels.bandDb.slice(1).map((band) => meanDb(band, from, from + width)));
  }).filter((value) => Number.isFinite(value));
  const count = rest.length;
  const humDb = hum.db.subarray(0, count);
  const half = Math.round(2 / hum.hopSeconds);
  const quick = (values: Float64Array): Float64Array => {
    const slow = coarseRunningMedian(values, half, 4);
    return values.map((value, i) => value - slow[i]!);
  };
  const quickHum = quick(humDb);
  const quickRest = quick(rest);
  return Math.sqrt(variance(quickHum)) >= 1.5 && correlation(quickHum, quickRest) <= -0.6;
}

/** The phone turns its gain up and down with the loudness. */
export const pumpsGain = (copy: ListeningCopy, levels: Levels): boolean =>
  ducksAfterEvents(levels) || humCounteracts(copy, levels);
