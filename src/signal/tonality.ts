import { parabolaVertex } from "./peaks.js";
import { logBackground, logOf } from "./spectral-background.js";
import type { Spectrum } from "./spectrum.js";

/** The band of noise that the ear sets against a tone. */
export interface CriticalBand {
  readonly lowHz: number;
  readonly highHz: number;
  readonly widthHz: number;
}

/**
 * Critical band round a tone: width 25 + 75 (1 + 1.4 (f/1000)²)^0.69 Hz, centred arithmetically below
 * 500 Hz and geometrically from there on. Source: ECMA-418-1:2024, clause 10.
 */
export function criticalBand(hz: number): CriticalBand {
  const widthHz = 25 + 75 * (1 + 1.4 * (hz / 1000) ** 2) ** 0.69;
  if (hz < 500) return { lowHz: hz - widthHz / 2, highHz: hz + widthHz / 2, widthHz };
  const lowHz = -widthHz / 2 + Math.sqrt(widthHz ** 2 + 4 * hz ** 2) / 2;
  return { lowHz, highHz: lowHz + widthHz, widthHz };
}

/**
 * Tone-to-noise ratio from which a tone counts as prominent, dB: 8 from 1 kHz on, below
 * 8 + 8.33 lg(1000/f). Source: ECMA-418-1:2024, formulas (12) and (13).
 */
export const toneCriterionDb = (hz: number): number =>
  hz >= 1000 ? 8 : 8 + 8.33 * Math.log10(1000 / hz);

/** A narrow line of a spectrum. */
export interface Tone {
  readonly hz: number;
  /** Power over the background, in the spectrum's unit summed over bins. */
  readonly power: number;
  /** Height of its highest bin over the background, dB. */
  readonly riseDb: number;
}

export interface TonesAndNoise {
  readonly tones: readonly Tone[];
  /** The spectrum with every tone's bins laid down to the background. Shape as the spectrum. */
  readonly noise: Spectrum;
}

export interface ToneSearch {
  readonly fromHz: number;
  readonly toHz: number;
  /** Height over the background from which a local maximum is a tone, dB. @defaultValue 11 */
  readonly riseDb?: number;
  /** Half-width of the stretch that makes the background, Hz. @defaultValue 80 */
  readonly backgroundHz?: number;
}

interface ToneBins {
  readonly power: Float64Array;
  readonly rise: Float64Array;
  readonly background: Float64Array;
}

// A tone's own bins: down both flanks while they fall and stand out by 3 dB.
function flank({ rise }: ToneBins, peak: number, step: 1 | -1): number {
  let k = peak;
  while (rise[k + step]! > Math.LN2 && (rise[k + step]! <= rise[k]! || Math.abs(k - peak) < 2)) {
    k += step;
  }
  return k;
}

/**
 * Splits an averaged spectrum into narrow lines and what lies under them.
 *
 * A line is a local maximum at least `riseDb` over the background (mean of ln power round it); it takes
 * the bins down both its flanks. The default keeps out most of the ripple that a room puts on noise. Strength and frequency hold for a Hann window, whose lines are four
 * bins wide.
 */
export function findTones(spectrum: Spectrum, search: ToneSearch): TonesAndNoise {
  const { values: power, binHz } = spectrum;
  const { fromHz, toHz, riseDb = 11, backgroundHz = 80 } = search;
  const log = logOf(power);
  const halfWidth = Math.max(8, Math.round(backgroundHz / binHz));
  const logLevel = logBackground(log, halfWidth);
  const rise = log.map((value, k) => value - logLevel[k]!);
  const bins = { power, rise, background: logLevel.map(Math.exp) };
  const noise = power.slice();
  const tones: Tone[] = [];
  const least = (riseDb * Math.LN10) / 10;
  const last = Math.min(power.length - 2, Math.floor(toHz / binHz));
  for (let k = Math.max(2, Math.ceil(fromHz / binHz)); k <= last; k++) {
    if (rise[k]! < least || rise[k]! <= rise[k - 1]! || rise[k]! < rise[k + 1]!) continue;
    const low = flank(bins, k, -1);
    const high = flank(bins, k, 1);
    let sum = 0;
    for (let j = low; j <= high; j++) {
      sum += noise[j]! - bins.background[j]!;
      noise[j] = bins.background[j]!;
    }
    if (sum <= 0) continue;
    const vertex = parabolaVertex(log[k - 1]!, log[k]!, log[k + 1]!);
    const hz = (k + vertex.position) * binHz;
    tones.push({ hz, power: sum, riseDb: (10 * rise[k]!) / Math.LN10 });
  }
  return { tones, noise: { values: noise, binHz } };
}

/**
 * Tone-to-noise ratio, dB: 10 lg of a tone's power over the noise in its critical band.
 * Source: ECMA-418-1:2024, clause 11 (noise taken from the background under the tones).
 */
export function toneToNoiseDb(tone: Tone, noise: Spectrum): number {
  const { lowHz, highHz, widthHz } = criticalBand(tone.hz);
  const low = Math.max(0, Math.ceil(lowHz / noise.binHz));
  const high = Math.min(noise.values.length - 1, Math.floor(highHz / noise.binHz));
  let sum = 0;
  for (let k = low; k <= high; k++) sum += noise.values[k]!;
  const perHz = sum / ((high - low + 1) * noise.binHz);
  return 10 * Math.log10(tone.power / (perHz * widthHz));
}
