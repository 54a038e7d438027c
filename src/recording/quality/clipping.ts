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
  /** Shape [blockCount]; highest and lowest sample of each block. */
  readonly tops: Float64Array;
  readonly bottoms: Float64Array;
}

function extremesOf(samples: Float32Array, blockLength: number): Extremes {
  const count = Math.ceil(samples.length / blockLength);
  const tops = new Float64Array(count);
  const bottoms = new Float64Array(count);
  for (let b = 0; b < count; b++) {
    const end = Math.min(samples.length, (b + 1) * blockLength);
    let top = 0;
    let bottom = 0;
    for (let i = b * blockLength; i < end; i++) {
      const x = samples[i]!;
      if (x > top) top = x;
      else if (x < bottom) bottom = x;
    }
    tops[b] = top;
    bottoms[b] = bottom;
  }
  const top = tops.reduce((a, b) => Math.max(a, b), 0);
  const bottom = bottoms.reduce((a, b) => Math.min(a, b), 0);
  return { top, bottom, tops, bottoms };
}

/** The smallest difference between neighbours in the first 50 000: the rounding of the file, or less. */
function roundingStep(samples: Float32Array): number {
  let step = Infinity;
  for (let i = 1; i < Math.min(samples.length, 50_000); i++) {
    const difference = Math.abs(samples[i]! - samples[i - 1]!);
    if (difference > 0 && difference < step) step = difference;
  }
  return Number.isFinite(step) ? step : 0;
}

/** Runs at one rail, and how many samples lie just under it. */
interface FlatTops {
  readonly runs: [from: number, to: number][];
  flat: number;
  shoulder: number;
}

/**
 * Collects runs of three or more equal samples close to the rail that the wave enters and leaves steeply.
 *
 * A slow wave rounded to few bits also stands still at its crest, but it gets there by a rounding step or
 * two; a clipped one arrives at speed. Equal means within a twentieth of that speed.
 */
function collectFlatTops(
  samples: Float32Array,
  [from, to]: readonly [number, number],
  rail: number,
  step: number,
  found: FlatTops,
): void {
  const n = samples.length;
  const sign = Math.sign(rail);
  const height = Math.abs(rail);
  const lowestArrival = Math.max(0.001 * height, 4 * step);
  for (let i = Math.max(2, from); i < Math.min(to, n - 1); i++) {
    const level = sign * samples[i]!;
    if (level < 0.97 * height) continue;
    if (level >= 0.99 * height && level < 0.9995 * height) found.shoulder++;
    const arrival = level - sign * samples[i - 2]!;
    if (arrival < lowestArrival) continue;
    const tolerance = Math.min(0.05 * arrival, 0.003 * height);
    let end = i;
    while (end + 1 < n && Math.abs(sign * samples[end + 1]! - level) <= tolerance) end++;
    const departure = end + 2 < n ? sign * (samples[end]! - samples[end + 2]!) : arrival;
    if (end - i >= 2 && departure > 0.05 * arrival) {
      found.runs.push([i, end]);
      found.flat += end - i + 1;
    }
    i = end;
  }
}

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
  const { top, bottom, tops, bottoms } = extremesOf(samples, blockLength);
  let clipped = 0;
  const mark = (from: number, to: number): void => {
    clipped += to - from + 1;
    for (let i = from; i <= to; i++) perBlock[Math.floor(i / blockLength)]!++;
  };
  const step = roundingStep(samples);
  for (const [rail, extremes] of [
    [top, tops],
    [bottom, bottoms],
  ] as const) {
    const found: FlatTops = { runs: [], flat: 0, shoulder: 0 };
    for (let b = 0; b < extremes.length && rail !== 0; b++) {
      if (extremes[b]! / rail < 0.97) continue;
      collectFlatTops(samples, [b * blockLength, (b + 1) * blockLength], rail, step, found);
    }
    // At a rail the samples pile up; under it there are few. A quiet crest has flat spots by chance.
    if (found.flat > found.shoulder) for (const [from, to] of found.runs) mark(from, to);
  }
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
