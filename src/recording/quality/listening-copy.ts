import { lowPassTaps } from "../../signal/resample.js";
import type { Hertz } from "../../foundation/units.js";

/** The recording at the lowest whole fraction of its rate that still is 16 kHz or more. */
export interface ListeningCopy {
  /** Shape [n], full scale ±1. */
  readonly samples: Float64Array;
  readonly sampleRateHz: Hertz;
}

const TARGET_HZ = 16_000;

/**
 * Thins a recording out by a whole factor after a short low-pass (about 45 dB). The verdict needs levels, not waveforms, so the cheap filter is enough.
 */
export function listeningCopy(samples: Float32Array, sampleRateHz: Hertz): ListeningCopy {
  const factor = Math.max(1, Math.floor(sampleRateHz / TARGET_HZ));
  if (factor === 1) return { samples: Float64Array.from(samples), sampleRateHz };
  const half = 3 * factor;
  const taps = lowPassTaps(0.42 / factor, half, 4);
  const out = new Float64Array(Math.floor(samples.length / factor));
  const n = samples.length;
  for (let m = 0; m < out.length; m++) {
    const centre = m * factor;
    let sum = taps[half]! * samples[centre]!;
    if (centre >= half && centre + half < n) {
      for (let j = 1; j <= half; j++) {
        sum += taps[half + j]! * (samples[centre - j]! + samples[centre + j]!);
      }
    } else {
      for (let j = 1; j <= half; j++) {
        sum += taps[half + j]! * ((samples[centre - j] ?? 0) + (samples[centre + j] ?? 0));
      }
    }
    out[m] = sum;
  }
  return { samples: out, sampleRateHz: sampleRateHz / factor };
}
