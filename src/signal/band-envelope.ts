import { fftPlan, nextPowerOfTwo } from "./fft-plan.js";
import type { Numbers } from "../foundation/statistics.js";

/** Squared envelope of one band, evenly sampled. */
export interface BandEnvelope {
  readonly lowHz: number;
  readonly highHz: number;
  /** Shape [n], unit (unit of samples)²; |analytic signal|² of the band. */
  readonly power: Float64Array;
  readonly sampleRateHz: number;
}

/** One forward transform of a whole signal, from which any number of bands can be cut. */
export interface WholeSpectrum {
  /** Shape [2 size], interleaved; bins 0..size/2 are valid. */
  readonly bins: Float64Array;
  readonly size: number;
  readonly sampleRateHz: number;
  /** Length of the signal before padding. */
  readonly sampleCount: number;
}

// Raised-cosine edges a tenth of the band wide keep the ringing of a brick wall out of the envelope.
function edgeGain(k: number, low: number, high: number): number {
  const ramp = Math.max(1, 0.1 * (high - low));
  const inside = Math.min(k - low, high - k);
  return inside >= ramp ? 1 : 0.5 * (1 - Math.cos((Math.PI * Math.max(0, inside)) / ramp));
}

/**
 * Transforms a whole signal at once, zero-padded to a power of two.
 *
 * @param samples real signal, at most 2^22 samples (four minutes at 16 kHz): cut longer ones up
 */
export function wholeSpectrum(samples: Numbers, sampleRateHz: number): WholeSpectrum {
  const size = nextPowerOfTwo(samples.length);
  const padded = new Float64Array(size);
  for (let i = 0; i < samples.length; i++) padded[i] = samples[i]!;
  const bins = new Float64Array(2 * size);
  fftPlan(size).forwardReal(padded, bins);
  return { bins, size, sampleRateHz, sampleCount: samples.length };
}

/**
 * Squared Hilbert envelope of one band of a spectrum.
 *
 * The band's bins are moved to 0 Hz and inverse-transformed at the smallest power-of-two length that
 * holds them, so a band of width B costs an FFT of about 1-2 B samples per second. The envelope's sample
 * rate is that length over the padded duration: at least B, often more. Exact for a tone; energy is
 * scaled so that mean(power) = 2 * mean square of the band.
 */
export function envelopeOfBand(
  spectrum: WholeSpectrum,
  [lowHz, highHz]: readonly [number, number],
): BandEnvelope {
  const { bins, size, sampleRateHz } = spectrum;
  const binHz = sampleRateHz / size;
  const low = Math.max(1, Math.round(lowHz / binHz));
  const high = Math.min(size / 2 - 1, Math.round(highHz / binHz));
  const length = nextPowerOfTwo(high - low + 1);
  const shifted = new Float64Array(2 * length);
  for (let k = low; k <= high; k++) {
    const gain = edgeGain(k, low, high);
    shifted[2 * (k - low)] = bins[2 * k]! * gain;
    shifted[2 * (k - low) + 1] = bins[2 * k + 1]! * gain;
  }
  const analytic = new Float64Array(2 * length);
  fftPlan(length).inverse(shifted, analytic);
  const rateHz = (length / size) * sampleRateHz;
  const count = Math.min(length, Math.floor((spectrum.sampleCount / sampleRateHz) * rateHz));
  const power = new Float64Array(count);
  const scale = (2 * length) / size;
  for (let i = 0; i < count; i++) {
    power[i] = scale * scale * (analytic[2 * i]! ** 2 + analytic[2 * i + 1]! ** 2);
  }
  return { lowHz, highHz, power, sampleRateHz: rateHz };
}

/** Squared Hilbert envelopes of several bands from one forward FFT: see `envelopeOfBand`. */
export function bandEnvelopes(
  samples: Numbers,
  sampleRateHz: number,
  bands: readonly (readonly [number, number])[],
): BandEnvelope[] {
  const spectrum = wholeSpectrum(samples, sampleRateHz);
  return bands.map((band) => envelopeOfBand(spectrum, band));
}
