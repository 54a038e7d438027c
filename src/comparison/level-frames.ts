import type { Interval, Recording } from "../recording/recording.js";
import { envelopeOfBand, wholeSpectrum } from "../signal/band-envelope.js";

/** Edges of the octaves that are compared, Hz; a phone's response hardly changes inside one. */
export const OCTAVE_EDGES_HZ = [90, 180, 355, 710, 1400, 2800, 5600, 7000] as const;
export const OCTAVE_COUNT = OCTAVE_EDGES_HZ.length - 1;
/** Frames of level a second. */
export const FRAME_RATE_HZ = 250;
/** A band that reaches this far beyond what the recording carries is still compared. */
const EDGE_TOLERANCE = 0.1;

/** Level of each octave over time; null where the recording does not carry the octave. */
export interface LevelFrames {
  /** Shape [OCTAVE_COUNT][frameCount], dB. */
  readonly octaves: readonly (Float64Array | null)[];
  /** Shape [frameCount]: 1 where the stretch is usable. */
  readonly usable: Uint8Array;
}

const decibel = (power: number): number => 10 * Math.log10(power + 1e-30);

function framesOf(power: Float64Array, rateHz: number, count: number): Float64Array {
  const out = new Float64Array(count);
  const step = rateHz / FRAME_RATE_HZ;
  for (let i = 0; i < count; i++) {
    const first = Math.floor(i * step);
    const last = Math.max(first + 1, Math.floor((i + 1) * step));
    let sum = 0;
    for (let j = first; j < last; j++) sum += power[j] ?? 0;
    out[i] = decibel(sum / (last - first));
  }
  return out;
}

function usableFrames(usable: readonly Interval[], count: number): Uint8Array {
  const mask = new Uint8Array(count);
  for (const { startSeconds, endSeconds } of usable) {
    mask.fill(1, Math.ceil(startSeconds * FRAME_RATE_HZ), Math.floor(endSeconds * FRAME_RATE_HZ));
  }
  return mask;
}

/**
 * Levels of the octaves of a recording in steps of 4 ms.
 *
 * @param sound the recording at `soundRateHz`, shape [n]
 */
export function levelFrames(
  sound: Float64Array,
  soundRateHz: number,
  { bandHz, usable }: Pick<Recording, "bandHz" | "usable">,
): LevelFrames {
  const spectrum = wholeSpectrum(sound, soundRateHz);
  const count = Math.max(0, Math.floor((sound.length / soundRateHz) * FRAME_RATE_HZ) - 1);
  const octaves = Array.from({ length: OCTAVE_COUNT }, (_, j) => {
    const low = OCTAVE_EDGES_HZ[j]!;
    const high = OCTAVE_EDGES_HZ[j + 1]!;
    const carried =
      low >= (1 - EDGE_TOLERANCE) * bandHz[0] && high <= (1 + EDGE_TOLERANCE) * bandHz[1];
    if (!carried) return null;
    const { power, sampleRateHz } = envelopeOfBand(spectrum, [low, high]);
    return framesOf(power, sampleRateHz, count);
  });
  return { octaves, usable: usableFrames(usable, count) };
}
