import { median, quantile } from "../../foundation/statistics.js";

const AMPLITUDE_BINS = 200;
const BLOCK_SECONDS = 0.06;

/** Counts by amplitude of up to about a million samples, in bins of half a percent of the highest one. */
function amplitudeCounts(samples: Float32Array, top: number): Float64Array {
  const counts = new Float64Array(AMPLITUDE_BINS + 1);
  const scale = AMPLITUDE_BINS / top;
  const stride = Math.max(1, Math.floor(samples.length / 600_000));
  for (let i = 0; i < samples.length; i += stride) counts[(Math.abs(samples[i]!) * scale) | 0]!++;
  return counts;
}

// A crest of the amplitude distribution above its lower flank: where a rail blurred by a codec would be.
function blurredRail(counts: Float64Array): number | null {
  const smooth = (k: number): number => {
    let sum = 0;
    for (let j = -3; j <= 3; j++) sum += counts[Math.min(AMPLITUDE_BINS, k + j)] ?? 0;
    return sum;
  };
  let best: number | null = null;
  let bestCount = 0;
  for (let k = Math.round(0.4 * AMPLITUDE_BINS); k <= AMPLITUDE_BINS; k++) {
    const count = smooth(k);
    if (count > bestCount && count > 1.1 * smooth(k - 24)) {
      best = k;
      bestCount = count;
    }
  }
  return best === null || bestCount < 20 ? null : best / AMPLITUDE_BINS;
}

/** Median bend |x[i-1] - 2x[i] + x[i+1]| where the amplitude lies in [low, high]; at most 20 000 places. */
function typicalBend(samples: Float32Array, low: number, high: number): number {
  const bends: number[] = [];
  const stride = Math.max(1, Math.floor(samples.length / 400_000));
  for (let i = 1; i < samples.length - 1 && bends.length < 20_000; i += stride) {
    const level = Math.abs(samples[i]!);
    if (level < low || level > high) continue;
    bends.push(Math.abs(samples[i - 1]! - 2 * samples[i]! + samples[i + 1]!));
  }
  return bends.length < 30 ? NaN : Float64Array.from(bends).sort()[bends.length >> 1]!;
}

/** A pile-up of amplitudes at one level where the wave bends less than half-way up; that level or null. */
function pileUpLevel(samples: Float32Array, highest: number): number | null {
  const rail = blurredRail(amplitudeCounts(samples, highest));
  if (rail === null) return null;
  const level = rail * highest;
  const atRail = typicalBend(samples, 0.95 * level, 1.05 * level);
  const halfWay = typicalBend(samples, 0.4 * level, 0.75 * level);
  // Hiss on a clean wave bends less at the crest too, down to sqrt(2/6): a sample chosen for its height.
  return atRail < 0.55 * halfWay ? level : null;
}

/** Level and peak of every second block of 60 ms, three periods of 50 Hz, in dB. */
function blockPeaks(samples: Float32Array, sampleRateHz: number): { rms: number; peak: number }[] {
  const length = Math.max(8, Math.round(BLOCK_SECONDS * sampleRateHz));
  const blocks: { rms: number; peak: number }[] = [];
  for (let start = 0; start + length <= samples.length; start += 2 * length) {
    let sum = 0;
    let top = 0;
    for (let i = start; i < start + length; i++) {
      const x = Math.abs(samples[i]!);
      sum += x * x;
      if (x > top) top = x;
    }
    if (top > 0) blocks.push({ rms: 10 * Math.log10(sum / length), peak: 20 * Math.log10(top) });
  }
  return blocks;
}

/**
 * Peaks that do not grow with the loudness: among the louder blocks the peak must follow the level, 1 dB for
 * 1 dB, whatever the gain. Where it hardly does, and the highest ten-thousandth of the amplitudes reaches
 * less than 3 dB over the highest hundredth (a normal distribution: 3.6 dB), a ceiling holds them.
 */
function heldPeakLevel(samples: Float32Array, sampleRateHz: number): number | null {
  const blocks = blockPeaks(samples, sampleRateHz);
  const loud = quantile(
    Float64Array.from(blocks, (block) => block.rms),
    0.7,
  );
  const louder = blocks.filter((block) => block.rms >= loud);
  if (louder.length < 20) return null;
  const levels = louder.map((block) => block.rms);
  const centre = levels.reduce((sum, level) => sum + level, 0) / levels.length;
  let spread = 0;
  let together = 0;
  for (const { rms, peak } of louder) {
    spread += (rms - centre) ** 2;
    together += (rms - centre) * peak;
  }
  if (Math.sqrt(spread / louder.length) < 0.5 || together > 0.6 * spread) return null;
  const stride = Math.max(1, Math.floor(samples.length / 300_000));
  const heights = new Float64Array(Math.floor(samples.length / stride));
  for (let i = 0; i < heights.length; i++) heights[i] = Math.abs(samples[i * stride]!);
  heights.sort();
  const high = heights[Math.floor(0.99 * heights.length)]!;
  const highest = heights[Math.floor(0.9999 * heights.length)]!;
  if (highest > 1.41 * high) return null;
  return 10 ** (median(louder.map((block) => block.peak)) / 20);
}

/**
 * The level of a ceiling that a lossy codec has blurred, full scale 1, or null.
 *
 * Two signs, each enough: amplitudes pile up at one level and the wave bends less there than half-way up (a
 * clean sine piles up as well, but bends most at its crest); or the peaks of louder and softer moments are
 * alike. Light clipping of less than about one sample in a hundred is lost in a codec.
 */
export const blurredRailLevel = (
  samples: Float32Array,
  sampleRateHz: number,
  highest: number,
): number | null =>
  highest === 0 ? null : (pileUpLevel(samples, highest) ?? heldPeakLevel(samples, sampleRateHz));

/** Marks runs of three or more samples above a level. */
export function markAbove(
  samples: Float32Array,
  level: number,
  mark: (from: number, to: number) => void,
): void {
  for (let i = 0; i < samples.length; i++) {
    if (Math.abs(samples[i]!) < level) continue;
    let end = i;
    while (end + 1 < samples.length && Math.abs(samples[end + 1]!) >= level) end++;
    if (end - i >= 2) mark(i, end);
    i = end;
  }
}
