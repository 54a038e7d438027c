import { clamp, correlation, mean } from "../foundation/statistics.js";
import { spectrogram } from "../signal/spectrum.js";

/** Levels by band, dB; null where the recording does not carry the band. Shape [BAND_COUNT]. */
export type FineLevels = readonly (number | null)[];

/** Bands of a twelfth of an octave, 150 Hz to 7.2 kHz: narrow against a phone's bends, wide against its speed. */
const BANDS_PER_OCTAVE = 12;
const LOWEST_HZ = 150;
const BAND_COUNT = 67;
const HIGHEST_HZ = 7000;
const SIZE = 4096;
/** Near the ends of what a recording carries its filters are steep. */
const END_SHARES = [1.1, 0.85] as const;
/** A single tone or gap counts no more than this, dB. */
const FARTHEST_DB = 12;
/** Two octaves: less says nothing. */
const LEAST_BANDS = 24;

const edgeHz = (band: number): number => LOWEST_HZ * 2 ** (band / BANDS_PER_OCTAVE);

/**
 * Sum of levels up to each bin's upper end, dB, so that a band may begin and end inside a bin. Levels and not
 * powers: a tone, which moves when the speed is a little off, shall not stand for its whole band.
 */
function upTo(frames: readonly Float64Array[]): Float64Array {
  const power = new Float64Array(SIZE / 2 + 1);
  for (const frame of frames) frame.forEach((value, k) => (power[k]! += value / frames.length));
  const sum = new Float64Array(power.length + 1);
  power.forEach((value, k) => (sum[k + 1] = sum[k]! + 10 * Math.log10(value + 1e-20)));
  return sum;
}

/** Levels in bands of a twelfth of an octave of the stretch between two times. */
export type FineBands = (startSeconds: number, endSeconds: number) => FineLevels;

/** @param sound the recording at `soundRateHz`, shape [n] */
export function fineBandsOf(
  sound: Float64Array,
  soundRateHz: number,
  bandHz: readonly [number, number],
): FineBands {
  const hop = SIZE / 2;
  const { frames } = spectrogram(sound, soundRateHz, { length: SIZE, hop });
  const binHz = soundRateHz / SIZE;
  const lowest = END_SHARES[0] * bandHz[0];
  const highest = Math.min(HIGHEST_HZ, END_SHARES[1] * bandHz[1]);
  const frameAt = (seconds: number): number => Math.round((seconds * soundRateHz - hop) / hop);
  return (startSeconds, endSeconds) => {
    const chosen = frames.slice(Math.max(0, frameAt(startSeconds)), frameAt(endSeconds));
    const sum = upTo(chosen);
    const levelsTo = (hz: number): number => {
      const at = hz / binHz + 0.5;
      const k = Math.floor(at);
      return sum[k]! + (at - k) * (sum[k + 1]! - sum[k]!);
    };
    return Array.from({ length: BAND_COUNT }, (_, band) => {
      const [low, high] = [edgeHz(band), edgeHz(band + 1)];
      const middle = Math.sqrt(low * high);
      if (chosen.length === 0 || middle <= lowest || middle >= highest) return null;
      return (levelsTo(high) - levelsTo(low)) / ((high - low) / binHz);
    });
  };
}

/** Weights of the mean that is taken off, by distance in bands: normal to 3 standard deviations (octaves). */
const weightsOf = (octaves: number): Float64Array =>
  Float64Array.from({ length: Math.round(3 * octaves * BANDS_PER_OCTAVE) + 1 }, (_, distance) =>
    Math.exp(-0.5 * (distance / (octaves * BANDS_PER_OCTAVE)) ** 2),
  );
/** What is alike is asked of narrow peaks, and what differs of peaks and gaps twice as wide. */
const NARROW = weightsOf(0.25);
const WIDE = weightsOf(0.5);

/** Levels less their own mean round each band: what a phone bends slowly drops out. */
function withoutBends(
  levels: readonly number[],
  bands: readonly number[],
  weights: Float64Array,
): number[] {
  return levels.map((level, i) => {
    let [sum, weight] = [0, 0];
    const reach = weights.length - 1;
    for (let j = Math.max(0, i - reach); j <= Math.min(levels.length - 1, i + reach); j++) {
      const w = weights[Math.abs(bands[j]! - bands[i]!)] ?? 0;
      sum += w * levels[j]!;
      weight += w;
    }
    return clamp(level - sum / weight, -FARTHEST_DB, FARTHEST_DB);
  });
}

/** Which bands a recording carries. */
export const carriedBands = (levels: FineLevels): number[] =>
  [...levels.keys()].filter((band) => levels[band] !== null);

/** How two spectra compare in their fine peaks and gaps. */
export interface FineChange {
  /** Correlation over bands: 1 for the same peaks. */
  readonly correlation: number;
  /** Fisher's z of the correlation, at most 2.6. */
  readonly likeness: number;
  /** RMS difference, dB. */
  readonly differenceDb: number;
}

const LARGEST_CORRELATION = 0.99;

/**
 * How alike the fine peaks and gaps of two spectra are; null with fewer than two octaves in common.
 *
 * Panels, tub and cabinet colour a noise with narrow peaks. Those stay while the noise stays, by whatever
 * phone and gain, and go with it; the bends of a microphone are wider, and those of a room narrower.
 */
export function fineChange(before: FineLevels, after: FineLevels): FineChange | null {
  const bands = carriedBands(before).filter((band) => after[band] !== null);
  if (bands.length < LEAST_BANDS) return null;
  const flat = (side: FineLevels, weights: Float64Array): number[] =>
    withoutBends(
      bands.map((band) => side[band]!),
      bands,
      weights,
    );
  const alike = correlation(flat(before, NARROW), flat(after, NARROW));
  const was = flat(before, WIDE);
  const rms = Math.sqrt(mean(flat(after, WIDE).map((level, i) => (level - was[i]!) ** 2)));
  return {
    correlation: alike,
    likeness: Math.atanh(clamp(alike, -LARGEST_CORRELATION, LARGEST_CORRELATION)),
    differenceDb: rms,
  };
}
