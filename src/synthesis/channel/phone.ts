import type { Random } from "../../foundation/random.js";
import { resample } from "../../signal/resample.js";
import {
  applyChain,
  bell,
  gentleHighPass,
  highPass,
  lowPass,
  type Biquad,
} from "../sound/filters.js";
import { peak, rms, scale } from "../sound/level.js";
import { RATE_HZ } from "../sound/rate.js";
import { controlGain, type GainControl } from "./gain-control.js";
import { suppressNoise } from "./noise-suppression.js";

/** A phone and its recording app. */
export interface PhoneDraw {
  /** Order of the high pass, 1 to 4, and where it starts. */
  readonly highPassOrder: number;
  readonly highPassHz: number;
  /** Bells of the microphone's response. */
  readonly bells: readonly { readonly hz: number; readonly q: number; readonly gainDb: number }[];
  readonly gainControl: GainControl | null;
  /** Greatest attenuation of steady sound, dB; 0 for none. */
  readonly noiseSuppressionDb: number;
  /** Level of the recording before limiting, dB re full scale (RMS). */
  readonly levelDb: number;
  /** Gain into the limiter beyond full scale, dB, where the app clips; null for clean. */
  readonly clippingDb: number | null;
  readonly sampleRateHz: number;
}

/** Draws a phone: most record cleanly, some pump, suppress, clip or sample slowly. */
export function drawPhone(random: Random): PhoneDraw {
  return {
    highPassOrder: random.integer(1, 4),
    highPassHz: random.between(60, 150),
    bells: Array.from({ length: random.integer(2, 5) }, () => ({
      hz: 120 * 80 ** random.uniform(),
      q: random.between(0.4, 3),
      gainDb: random.between(-10, 10),
    })),
    gainControl: random.chance(0.25)
      ? {
          attackSeconds: random.between(0.002, 0.05),
          releaseSeconds: random.between(0.06, 1),
          ratio: random.between(2, 8),
        }
      : null,
    noiseSuppressionDb: random.chance(0.12) ? random.between(6, 18) : 0,
    levelDb: random.between(-38, -16),
    clippingDb: random.chance(0.08) ? random.between(2, 10) : null,
    sampleRateHz: random.pick([48_000, 48_000, 48_000, 44_100, 44_100, 44_100, 16_000, 8_000]),
  };
}

function sections(phone: PhoneDraw): Biquad[] {
  const hz = phone.highPassHz;
  const filters = phone.bells.map(({ hz: centre, q, gainDb }) => bell(centre, q, gainDb));
  if (phone.highPassOrder % 2 === 1) filters.push(gentleHighPass(hz));
  if (phone.highPassOrder === 2) filters.push(highPass(hz));
  if (phone.highPassOrder === 3) filters.push(highPass(hz, 1));
  // Butterworth of the fourth order as two sections.
  if (phone.highPassOrder === 4) filters.push(highPass(hz, 0.541), highPass(hz, 1.307));
  const top = 0.44 * phone.sampleRateHz;
  if (top < 10_000) filters.push(lowPass(top, 0.541), lowPass(top, 1.307));
  return filters;
}

/** The linear part of the phone: what it does to every sound alike. In place. */
export const hearThrough = (phone: PhoneDraw, samples: Float64Array): Float64Array =>
  applyChain(samples, sections(phone));

// A soft knee that never passes full scale.
function limit(samples: Float64Array): void {
  const knee = 0.8;
  for (let i = 0; i < samples.length; i++) {
    const x = samples[i]!;
    const size = Math.abs(x);
    if (size <= knee) continue;
    samples[i] = Math.sign(x) * (knee + (1 - knee) * Math.tanh((size - knee) / (1 - knee)));
  }
}

function clip(samples: Float64Array): void {
  for (let i = 0; i < samples.length; i++) {
    samples[i] = Math.max(-1, Math.min(1, samples[i]!));
  }
}

/**
 * The rest of the phone: noise suppression, gain control, level, limiter or clipping, sample rate and
 * 16-bit quantisation. Magnitudes stay within full scale. Shape [n sampleRateHz / 48000].
 */
export function recordWith(phone: PhoneDraw, heard: Float64Array, random: Random): Float32Array {
  const samples = heard.slice();
  if (phone.noiseSuppressionDb > 0) suppressNoise(samples, phone.noiseSuppressionDb);
  const level = rms(samples);
  if (level > 0) scale(samples, 10 ** (phone.levelDb / 20) / level);
  if (phone.gainControl) controlGain(samples, phone.gainControl);
  if (phone.clippingDb !== null) {
    scale(samples, 10 ** (phone.clippingDb / 20) / Math.max(1e-9, peak(samples)));
    clip(samples);
  } else {
    limit(samples);
  }
  const kept =
    phone.sampleRateHz === RATE_HZ ? samples : resample(samples, RATE_HZ, phone.sampleRateHz);
  const out = new Float32Array(kept.length);
  for (let i = 0; i < kept.length; i++) {
    const dither = random.uniform() - random.uniform();
    const step = Math.round(kept[i]! * 32_767 + 0.5 * dither);
    out[i] = Math.max(-32_767, Math.min(32_767, step)) / 32_767;
  }
  return out;
}

/** A phone in a few words, for the truth beside the clip. */
export function describePhone(phone: PhoneDraw): string {
  const parts = [
    `high pass ${phone.highPassHz.toFixed(0)} Hz order ${phone.highPassOrder}`,
    `${phone.sampleRateHz} Hz`,
  ];
  if (phone.gainControl) parts.push("automatic gain");
  if (phone.noiseSuppressionDb > 0)
    parts.push(`noise suppression ${phone.noiseSuppressionDb.toFixed(0)} dB`);
  if (phone.clippingDb !== null) parts.push("clipped");
  return parts.join(", ");
}
