import { fromDb, section, slope, toDb, type Signal } from "./sound.js";

/** Loudness by ear, roughly: the A-weighting's poles at 20.6, 107.7, 737.9 and 12 194 Hz (IEC 61672-1, annex E). */
export function earWeighted(x: Signal, rate: number): Signal {
  const out = section(x.slice(), rate, "high", 20.6, 0.5);
  slope(slope(out, rate, "high", 107.7), rate, "high", 737.9);
  return rate > 32_000 ? slope(out, rate, "low", 12_194) : out;
}

/** Frames as long as the "fast" time weighting of a sound level meter. */
const FRAME_SECONDS = 0.125;
/** Frames this far below the loud ones count as silence of that sound. */
const SILENT_BELOW_DB = 20;

/**
 * Level in dB over the frames in which a sound sounds: those at most 20 dB under its loud ones, after
 * weighting by ear. `loudShare` says where the loud ones stand in the order of frames (0..1).
 */
export function soundingLevel(x: Signal, rate: number, loudShare: number): number {
  const weighted = earWeighted(x, rate);
  const size = Math.round(FRAME_SECONDS * rate);
  const powers: number[] = [];
  for (let from = 0; from + size <= x.length; from += size) {
    let sum = 0;
    for (let k = from; k < from + size; k++) sum += weighted[k]! ** 2;
    powers.push(sum / size);
  }
  const loud = [...powers].sort((a, b) => a - b)[Math.floor(loudShare * (powers.length - 1))]!;
  const sounding = powers.filter(
    (power) => power > 0 && power >= loud * fromDb(-SILENT_BELOW_DB) ** 2,
  );
  if (sounding.length === 0) return -Infinity;
  return toDb(Math.sqrt(sounding.reduce((sum, power) => sum + power, 0) / sounding.length));
}

/** A fault may be a few short events: its loudest frame leads. A background is there most of the time. */
export const faultLevel = (x: Signal, rate: number): number => soundingLevel(x, rate, 1);
export const backgroundLevel = (x: Signal, rate: number): number => soundingLevel(x, rate, 0.8);
