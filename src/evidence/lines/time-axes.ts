import { quantiles } from "../../foundation/statistics.js";
import type { ListeningContext } from "../context.js";
import { timeSpectrum, type AxisSpectrum } from "./axis-spectrum.js";
import {
  bandLogEnvelopes,
  driftSeconds,
  MODULATION_BANDS,
  steadyHalfWidthHz,
} from "./envelope-bands.js";
import { harmonicLines, type KnownLine } from "./known-lines.js";
import { clippedSum, lineAxis, type LineAxis } from "./line-axis.js";
import { codecFrameHz, speedSpan, type Shafts } from "./shafts.js";

const ENVELOPE_RATE_HZ = 1000;
const ENVELOPE_BLOCK = 16_384;
/** About two seconds at 16 kHz: half a hertz a bin. */
export const SOUND_BLOCK = 32_768;
const STROKE_BLOCK = 8192;

/** Tones of the sound over hertz, with levels. */
export interface HertzAxis extends LineAxis {
  readonly spectrum: AxisSpectrum;
}

function mainsLinesOf(context: ListeningContext, topHz: number, widthHz: number): KnownLine[] {
  const lineHz = context.speed.lineHz;
  const frameHz = codecFrameHz(context);
  const width = (hz: number): number => steadyHalfWidthHz(hz) + widthHz;
  return [
    ...harmonicLines("mains", lineHz ?? 0, topHz, width),
    ...harmonicLines("codec", frameHz ?? 0, topHz, width),
  ];
}

// At steady speed the shafts' own lines stand still in hertz as well.
function shaftLinesOf(shafts: Shafts | null, topHz: number, widthHz: number): KnownLine[] {
  if (shafts === null || speedSpan(shafts) > 0.02) return [];
  const error = shafts.error + speedSpan(shafts) / 2;
  const width = (hz: number): number => Math.min(2, widthHz + hz * error);
  const motorHz = (shafts.motorRatio ?? 0) * shafts.typicalHz;
  return [
    ...harmonicLines("drum", shafts.typicalHz, Math.min(topHz, 12 * shafts.typicalHz), width),
    ...(motorHz > 1.2 * shafts.typicalHz ? harmonicLines("motor", motorHz, topHz, width) : []),
  ];
}

function axisOf(
  spectra: readonly AxisSpectrum[],
  context: ListeningContext,
  shafts: Shafts | null,
): LineAxis {
  const unblanked = clippedSum(spectra);
  const { bin, resolution } = spectra[0]!;
  const top = (unblanked.length - 1) * bin;
  return lineAxis({
    unblanked,
    bin,
    resolution,
    known: [
      ...mainsLinesOf(context, top, 0.75 * resolution),
      ...shaftLinesOf(shafts, top, 0.75 * resolution),
    ],
    drumPlace: null,
    motorPlace: null,
    motorError: 0,
    clockError: 0.001,
    hzPerPlace: 1,
  });
}

const usableAt =
  (context: ListeningContext) =>
  (seconds: number): boolean =>
    context.usableMask[Math.floor(seconds / context.maskHopSeconds)] === 1;

/** Modulation of the octaves over hertz. */
export function hertzEnvelopeAxis(
  context: ListeningContext,
  shafts: Shafts | null,
): LineAxis | null {
  const logs = bandLogEnvelopes(context, MODULATION_BANDS, {
    rateHz: ENVELOPE_RATE_HZ,
    driftSeconds: driftSeconds(shafts),
    emptySteady: false,
  });
  const spectra = logs.flatMap(({ values, sampleRateHz }) => {
    const block = Math.min(ENVELOPE_BLOCK, 2 ** Math.floor(Math.log2(values.length)));
    const made = timeSpectrum(values, sampleRateHz, block, usableAt(context));
    return made === null ? [] : [made];
  });
  return spectra.length === 0 ? null : axisOf(spectra, context, shafts);
}

/** Tones of the sound over hertz. */
export function hertzSoundAxis(context: ListeningContext, shafts: Shafts | null): HertzAxis | null {
  const { sound, soundRateHz } = context;
  const block = Math.min(SOUND_BLOCK, 2 ** Math.floor(Math.log2(sound.length)));
  const spectrum = timeSpectrum(sound, soundRateHz, block, usableAt(context));
  return spectrum === null ? null : { ...axisOf([spectrum], context, shafts), spectrum };
}

/** Seconds at which half-second blocks start whose level lies in the upper or lower part. */
function strokeLevels(context: ListeningContext): { on: (s: number) => boolean; swingDb: number } {
  const { power, sampleRateHz } = context.envelope("octave-500");
  const hop = Math.max(1, Math.round(0.05 * sampleRateHz));
  const levels = new Float64Array(Math.floor(power.length / hop));
  for (let i = 0; i < levels.length; i++) {
    let sum = 0;
    for (let j = i * hop; j < (i + 1) * hop; j++) sum += power[j]!;
    levels[i] = 10 * Math.log10(sum / hop + 1e-30);
  }
  const [low, middle, high] = quantiles(levels, [0.15, 0.5, 0.85]);
  const at = (seconds: number): number =>
    levels[Math.min(levels.length - 1, Math.floor((seconds * sampleRateHz) / hop))]!;
  return { on: (seconds) => at(seconds) >= middle!, swingDb: high! - low! };
}

const LEAST_STROKE_SWING_DB = 3;

/**
 * Tones that sound during the strokes and not between them: evidence of the loud half-second blocks
 * minus that of the quiet ones. Without strokes (swing under 3 dB) there is nothing to gate: null.
 */
export function strokeAxis(context: ListeningContext): LineAxis | null {
  const { on, swingDb } = strokeLevels(context);
  if (swingDb < LEAST_STROKE_SWING_DB) return null;
  const usable = usableAt(context);
  const { sound, soundRateHz } = context;
  const loud = timeSpectrum(sound, soundRateHz, STROKE_BLOCK, (s) => usable(s) && on(s));
  const quiet = timeSpectrum(sound, soundRateHz, STROKE_BLOCK, (s) => usable(s) && !on(s));
  if (loud === null) return null;
  const axis = axisOf([loud], context, null);
  if (quiet === null) return axis;
  const between = clippedSum([quiet]);
  return lineAxis({
    ...axis,
    unblanked: axis.unblanked.map((e, k) => Math.max(0, e - between[k]!)),
  });
}
