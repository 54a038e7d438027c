import type { Hertz } from "../foundation/units.js";
import { mean, quantiles } from "../foundation/statistics.js";
import { fftPlan, nextPowerOfTwo } from "../signal/fft-plan.js";
import { windowOf } from "../signal/window.js";

/** Level of several bands over time, as natural logarithms of power. */
export interface LogEnvelopes {
  /** Shape [bands][n]; ln of band power with its own slow course (1.6 s mean) taken off, clipped. */
  readonly rows: readonly Float64Array[];
  readonly rateHz: Hertz;
  /** ln of power at the 98 % quantile over the median, mean of the bands: high for ticks in silence, 0.6-1 for noise. */
  readonly contrast: number;
}

/** Samples of the envelopes per second: holds modulation up to some 80 Hz. */
export const ENVELOPE_RATE_HZ = 200;

// Harmonics of a motor beat at its own rate. What beats faster than half of `ENVELOPE_RATE_HZ` must not
// fold back to rates of a drum: a Hann window of 16 ms is 25 dB down from 150 Hz on.
const WINDOW_SECONDS = 0.016;

// Octaves that phones carry. What is heavy thumps at 60-150 Hz, tub and panels knock at 150-400 Hz; mains and
// motor lines beat with each other there, too, which modulates one octave alone (see `OctaveMean`).
const OCTAVES: readonly (readonly [number, number])[] = [
  [60, 150],
  [150, 400],
  [400, 800],
  [800, 1600],
  [1600, 3200],
  [3200, 7000],
];

/** Where the octaves begin in which hardly anything but noise is heard. */
export const HIGH_FROM_HZ = 400;

/** Below this, bins of 62 Hz are too wide for an octave: windows are four times as long there. */
const LONG_BELOW_HZ = 150;

interface BinRange {
  /** Transform length whose bins are meant. */
  readonly size: number;
  readonly low: number;
  readonly high: number;
}

function binRanges(
  bandHz: readonly [number, number],
  soundRateHz: number,
  shortSize: number,
): BinRange[] {
  return OCTAVES.map(([from, to]) => {
    const size = from < LONG_BELOW_HZ ? 4 * shortSize : shortSize;
    const binHz = soundRateHz / size;
    return {
      size,
      low: Math.ceil(Math.max(from, bandHz[0]) / binHz),
      high: Math.min(Math.floor((bandHz[1] * 0.95) / binHz), Math.ceil(to / binHz) - 1),
    };
  }).filter((range) => range.high - range.low >= 2);
}

/** Puts ln of the power in each range of bins over time into its row, from spectra of one size. */
function fillRows(
  sound: Float64Array,
  hop: number,
  size: number,
  bands: readonly { readonly range: BinRange; readonly row: Float64Array }[],
): void {
  const window = windowOf("hann", size);
  const block = new Float64Array(size);
  const bins = new Float64Array(2 * size);
  const plan = fftPlan(size);
  const count = bands[0]!.row.length;
  for (let t = 0; t < count; t++) {
    const start = Math.round((t + 0.5) * hop - size / 2);
    for (let i = 0; i < size; i++) block[i] = (sound[start + i] ?? 0) * window[i]!;
    plan.forwardReal(block, bins);
    for (const { range, row } of bands) {
      let sum = 1e-14;
      for (let k = range.low; k <= range.high; k++) {
        sum += bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
      }
      row[t] = Math.log(sum);
    }
  }
}

/** Centred moving average over ±half places; at the ends over what there is. */
export function movingAverage(values: Float64Array, half: number): Float64Array {
  const n = values.length;
  const out = new Float64Array(n);
  let sum = 0;
  let from = 0;
  let to = 0;
  for (let i = 0; i < n; i++) {
    const high = Math.min(n, i + half + 1);
    const low = Math.max(0, i - half);
    while (to < high) sum += values[to++]!;
    while (from < low) sum -= values[from++]!;
    out[i] = sum / (to - from);
  }
  return out;
}

/** A stretch of time, seconds. */
interface Stretch {
  readonly startSeconds: number;
  readonly endSeconds: number;
}

/** Whether each envelope sample may be used. */
function maskOf(count: number, usable: readonly Stretch[] | undefined): Uint8Array {
  const mask = new Uint8Array(count);
  if (usable === undefined || usable.length === 0) return mask.fill(1);
  for (const { startSeconds, endSeconds } of usable) {
    mask.fill(
      1,
      Math.max(0, Math.ceil(startSeconds * ENVELOPE_RATE_HZ)),
      Math.max(0, Math.floor(endSeconds * ENVELOPE_RATE_HZ)),
    );
  }
  return mask;
}

// Silence is no modulation: what may not be used takes the level of what came before (or comes first).
function bridge(row: Float64Array, mask: Uint8Array): void {
  const lag = Math.round(0.4 * ENVELOPE_RATE_HZ);
  let level = NaN;
  const first = mask.indexOf(1);
  if (first < 0) return;
  const levelFrom = (start: number): number => mean(row.subarray(start, start + lag));
  for (let i = 0; i < row.length; i++) {
    if (mask[i]) {
      level = NaN;
      continue;
    }
    if (Number.isNaN(level))
      level = i > first ? levelFrom(Math.max(first, i - lag)) : levelFrom(first);
    row[i] = level;
  }
}

// Claps and taps must not outshout a line: nothing counts for more than three deviations.
// Returns how far the 98 % quantile lies above the median before that.
function flatten(row: Float64Array, rateHz: number, slowSeconds: number): number {
  const slow = movingAverage(row, Math.round((slowSeconds / 2) * rateHz));
  const some = new Float64Array(Math.ceil(row.length / 4));
  let squares = 0;
  for (let i = 0; i < row.length; i++) {
    row[i]! -= slow[i]!;
    if (i % 4 === 0) some[i >> 2] = row[i]!;
    squares += Math.min(4, row[i]! ** 2);
  }
  const limit = 3 * Math.sqrt(squares / Math.max(1, row.length)) + 1e-9;
  for (let i = 0; i < row.length; i++) row[i] = Math.max(-limit, Math.min(limit, row[i]!));
  const [middle, high] = quantiles(some, [0.5, 0.98]);
  return high! - middle!;
}

/**
 * Log envelopes of up to six octaves from 60 Hz to 7 kHz, 200 per second, from short spectra of 16 ms (64 ms below
 * 150 Hz).
 *
 * The logarithm makes them blind to gain and colour of the recording and hard to upset by single loud
 * events. Bands outside `bandHz` are left out.
 *
 * @param slowSeconds length of the moving mean that is taken off
 * @param usable stretches outside which nothing is looked at; everywhere when left out
 */
export function logEnvelopes(
  sound: Float64Array,
  soundRateHz: Hertz,
  bandHz: readonly [number, number],
  { slowSeconds = 1.6, usable }: { slowSeconds?: number; usable?: readonly Stretch[] } = {},
): LogEnvelopes {
  const size = nextPowerOfTwo(Math.round(WINDOW_SECONDS * soundRateHz));
  const hop = soundRateHz / ENVELOPE_RATE_HZ;
  const count = Math.floor(sound.length / hop);
  const bands = binRanges(bandHz, soundRateHz, size).map((range) => ({
    range,
    row: new Float64Array(count),
  }));
  for (const one of new Set(bands.map(({ range }) => range.size))) {
    const ofSize = bands.filter(({ range }) => range.size === one);
    fillRows(sound, hop, one, ofSize);
  }
  const rows = bands.map(({ row }) => row);
  const mask = maskOf(count, usable);
  for (const row of rows) bridge(row, mask);
  const contrast = mean(rows.map((row) => flatten(row, ENVELOPE_RATE_HZ, slowSeconds)));
  return { rows, rateHz: ENVELOPE_RATE_HZ, contrast };
}
