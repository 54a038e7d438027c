import { correlation, mean, quantile, variance } from "../../foundation/statistics.js";
import { coarseRunningMedian } from "../../signal/running-median.js";
import { ducksAfterEvents } from "./ducking.js";
import { framesOf } from "./frames.js";
import { meanDb, type Levels } from "./levels.js";
import type { ListeningCopy } from "./listening-copy.js";

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
