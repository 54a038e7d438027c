import { bandLevelsDb, frameLength, framesOf, type Frames } from "./frames.js";
import type { ListeningCopy } from "./listening-copy.js";
import type { Decibels, Hertz } from "../../foundation/units.js";

/** Levels over time that the gain, silence and handling checks share. */
export interface Levels {
  /** Frames of about 32 ms, 16 ms apart. */
  readonly frames: Frames;
  /** Octaves inside the usable band. */
  readonly bandsHz: readonly (readonly [Hertz, Hertz])[];
  /** Shape [bandCount][frameCount], dB. */
  readonly bandDb: readonly Float64Array[];
  /** Shape [frameCount]; 200-4000 Hz, dB: where every washer has some sound. */
  readonly middleDb: Float64Array;
}

const OCTAVES_HZ = [150, 300, 600, 1200, 2400, 4800, 7500] as const;

/** Measures levels of octaves inside `bandHz`, frame by frame. */
export function levelsOf(copy: ListeningCopy, bandHz: readonly [Hertz, Hertz]): Levels {
  const rate = copy.sampleRateHz;
  const frames = framesOf(
    copy.samples,
    rate,
    frameLength(0.032, rate),
    Math.max(1, Math.round(0.016 * rate)),
    8000,
  );
  const top = Math.min(bandHz[1], rate * 0.45);
  const bandsHz = OCTAVES_HZ.slice(1).flatMap((high, i) => {
    const low = Math.max(OCTAVES_HZ[i]!, bandHz[0]);
    const end = Math.min(high, top);
    return end > 1.3 * low ? [[low, end] as const] : [];
  });
  return {
    frames,
    bandsHz,
    bandDb: bandsHz.map(([low, high]) => bandLevelsDb(frames, low, high)),
    middleDb: bandLevelsDb(frames, 200, Math.min(4000, top)),
  };
}

/** Means of `width` neighbours, without overlap, taken on powers. Shape [floor(n / width)], dB. */
export function blockLevelsDb(levelsDb: Float64Array, width: number): Float64Array {
  const out = new Float64Array(Math.floor(levelsDb.length / width));
  for (let b = 0; b < out.length; b++) {
    let sum = 0;
    for (let i = 0; i < width; i++) sum += 10 ** (levelsDb[b * width + i]! / 10);
    out[b] = 10 * Math.log10(sum / width);
  }
  return out;
}

/** Mean of dB values in [from, to), cut to the array; NaN when nothing is left. */
export function meanDb(values: Float64Array, from: number, to: number): Decibels {
  const start = Math.max(0, from);
  const end = Math.min(values.length, to);
  let sum = 0;
  for (let i = start; i < end; i++) sum += values[i]!;
  return sum / (end - start);
}
