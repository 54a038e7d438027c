import { quantile, quantiles } from "../foundation/statistics.js";
import { spectrogram } from "../signal/spectrum.js";

const SIZE = 512;
/** Bins on either side that a bin is held against. */
const NEIGHBOURS = 8;
const LOWEST_HZ = 300;
const HIGHEST_HZ = 6500;
const LEAST_BINS = 24;
/** Tones and knocks widen or narrow some bins: the calmest fifth is asked. */
const ASKED_SHARE = 0.2;

/** Power of each bin over time against the mean of its neighbours, dB; shape [bins][frames]. */
function againstNeighbours(power: readonly Float64Array[], first: number, last: number) {
  return Array.from({ length: last - first }, (_, i) => {
    const k = first + i;
    return Float64Array.from(power, (frame) => {
      let around = 0;
      for (let n = 1; n <= NEIGHBOURS; n++) around += frame[k - n]! + frame[k + n]!;
      return 10 * Math.log10((frame[k]! + 1e-14) / (around / (2 * NEIGHBOURS) + 1e-14));
    });
  });
}

/**
 * How far single bins of 31 Hz rise and fall against their neighbours: 10-90 % range over time, dB, of the
 * calmest fifth of the bins between 300 Hz and 6.5 kHz; null when the sound is shorter than 2 s or narrower
 * than 24 bins.
 *
 * Steady noise has exponentially distributed powers: 10 log10(ln 0.1 / ln 0.9) = 13.4 dB, a little less after
 * the calmest fifth is taken. Whatever moves many bins at once, such as knocks or a gain, drops out. Spectral
 * subtraction turns each bin up and down by itself and widens the range in all of them.
 *
 * @param sound at 16 kHz, shape [n]
 */
export function binSpreadOf(
  sound: Float64Array,
  soundRateHz: number,
  [lowHz, highHz]: readonly [number, number],
): number | null {
  const binHz = soundRateHz / SIZE;
  const first = Math.max(NEIGHBOURS, Math.ceil(Math.max(LOWEST_HZ, lowHz) / binHz));
  const last = Math.floor(Math.min(HIGHEST_HZ, 0.9 * highHz) / binHz) - NEIGHBOURS;
  if (sound.length < 2 * soundRateHz || last - first < LEAST_BINS) return null;
  const { frames } = spectrogram(sound, soundRateHz, { length: SIZE, hop: SIZE / 2 });
  const ranges = againstNeighbours(frames, first, last).map((values) => {
    const [low, high] = quantiles(values, [0.1, 0.9]) as [number, number];
    return high - low;
  });
  return quantile(ranges, ASKED_SHARE);
}
