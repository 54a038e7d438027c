import { blurredRailLevel, markAbove } from "./blurred-clipping.js";

/** What clipping did to one channel. */
export interface Clipping {
  /** Share of samples in flat tops at the rail, 0 to 1. */
  readonly share: number;
  /** Shape [ceil(n / blockLength)]; clipped samples in each block of 0.1 s. */
  readonly perBlock: Uint16Array;
  readonly blockSeconds: number;
}

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

/**
 * Finds flat tops.
 *
 * First exact ones at the highest positive and negative value, at whatever level that is. Failing that, tops
 * blurred by a lossy codec; their share is an estimate.
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
  if (clipped < 1e-4 * samples.length) {
    const level = blurredRailLevel(samples, sampleRateHz, Math.max(top, -bottom));
    if (level !== null) markAbove(samples, 0.95 * level, mark);
  }
  return {
    share: samples.length === 0 ? 0 : clipped / samples.length,
    perBlock,
    blockSeconds: blockLength / sampleRateHz,
  };
}
