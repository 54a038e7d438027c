/** What clipping did to one channel. */
export interface Clipping {
  /** Share of samples in flat tops at the rail, 0 to 1. */
  readonly share: number;
  /** Shape [ceil(n / blockLength)]; clipped samples in each block of 0.1 s. */
  readonly perBlock: Uint16Array;
  readonly blockSeconds: number;
}

const AMPLITUDE_BINS = 200;

interface Extremes {
  readonly top: number;
  readonly bottom: number;
}

function extremesOf(samples: Float32Array): Extremes {
  let top = 0;
  let bottom = 0;
  for (let i = 0; i < samples.length; i++) {
    const x = samples[i]!;
    if (x > top) top = x;
    else if (x < bottom) bottom = x;
  }
  return { top, bottom };
}

/**
 * Marks runs of three or more equal samples close to the rail that the wave enters and leaves steeply.
 *
 * A slow wave rounded to 16 bits also stands still at its crest, but it enters the crest by a step or two;
 * a clipped one arrives at speed. Equal means within a twentieth of that speed.
 */
function markFlatTops(
  samples: Float32Array,
  rail: number,
  sign: number,
  mark: (from: number, to: number) => void,
): void {
  const n = samples.length;
  const near = 0.97 * rail;
  for (let i = 1; i < n - 1; i++) {
    const level = sign * samples[i]!;
    if (level < near) continue;
    const arrival = level - sign * samples[i - 1]!;
    if (arrival < 1e-4 * rail) continue;
    const tolerance = Math.min(0.05 * arrival, 0.003 * rail);
    let end = i;
    while (end + 1 < n && Math.abs(sign * samples[end + 1]! - level) <= tolerance) end++;
    const departure = end + 1 < n ? sign * (samples[end]! - samples[end + 1]!) : arrival;
    if (end - i >= 2 && arrival > 0.002 * rail && departure > 0.05 * arrival) mark(i, end);
    i = end;
  }
}

/** Counts by amplitude, in bins of half a percent of the highest one. */
function amplitudeCounts(samples: Float32Array, top: number): Float64Array {
  const counts = new Float64Array(AMPLITUDE_BINS + 1);
  const scale = AMPLITUDE_BINS / top;
  for (let i = 0; i < samples.length; i++) counts[(Math.abs(samples[i]!) * scale) | 0]!++;
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
  for (let k = Math.round(0.5 * AMPLITUDE_BINS); k <= AMPLITUDE_BINS; k++) {
    const count = smooth(k);
    if (count > bestCount && count > 1.3 * smooth(k - 12)) {
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

/**
 * Finds flat tops.
 *
 * First exact ones at the highest positive and negative value, at whatever level that is. Failing that,
 * tops blurred by a lossy codec: the amplitudes pile up at one level, and the wave bends less there than
 * half-way up. A clean sine piles up as well, but bends most at its crest.
 *
 * @param samples shape [n], finite
 */
export function findClipping(samples: Float32Array, sampleRateHz: number): Clipping {
  const blockLength = Math.max(1, Math.round(0.1 * sampleRateHz));
  const perBlock = new Uint16Array(Math.ceil(samples.length / blockLength));
  const { top, bottom } = extremesOf(samples);
  let clipped = 0;
  const mark = (from: number, to: number): void => {
    clipped += to - from + 1;
    for (let i = from; i <= to; i++) perBlock[Math.floor(i / blockLength)]!++;
  };
  if (top > 0) markFlatTops(samples, top, 1, mark);
  if (bottom < 0) markFlatTops(samples, -bottom, -1, mark);
  if (clipped < 1e-4 * samples.length) markBlurredTops(samples, Math.max(top, -bottom), mark);
  return {
    share: samples.length === 0 ? 0 : clipped / samples.length,
    perBlock,
    blockSeconds: blockLength / sampleRateHz,
  };
}

function markBlurredTops(
  samples: Float32Array,
  highest: number,
  mark: (from: number, to: number) => void,
): void {
  if (highest === 0) return;
  const rail = blurredRail(amplitudeCounts(samples, highest));
  if (rail === null) return;
  const level = rail * highest;
  const atRail = typicalBend(samples, 0.95 * level, 1.05 * level);
  const halfWay = typicalBend(samples, 0.4 * level, 0.75 * level);
  if (!(atRail < 0.6 * halfWay)) return;
  for (let i = 0; i < samples.length; i++) {
    if (Math.abs(samples[i]!) < 0.95 * level) continue;
    let end = i;
    while (end + 1 < samples.length && Math.abs(samples[end + 1]!) >= 0.95 * level) end++;
    if (end - i >= 2) mark(i, end);
    i = end;
  }
}
