import type { BandName, ListeningContext } from "../context.js";
import { BANDS } from "../context.js";
import type { Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { framePower, soundFrames } from "../event/sound-frames.js";
import { eventTrust } from "../event/trust.js";
import { fftPlan } from "../../signal/fft-plan.js";
import { windowOf } from "../../signal/window.js";
import type { Stroke, StrokePattern } from "./stroke-pattern.js";
import { meshComb } from "./mesh-comb.js";

const RATE_HZ = 500;
const FFT_SIZE = 1024;
/** Rates of growl: roughness from 20 Hz, gear mesh up to 230 Hz (mesh of 9.6-20 times 8-12 Hz). */
const GROWL_HZ = [20, 230] as const;
/** The motor's own start and stop stay out: 0.1 s and 60 ms, in short strokes a quarter and a sixth. */
const START_SECONDS = 0.1;
const STOP_SECONDS = 0.06;
const SHORTEST_SECONDS = 0.1;
/** Splashing water alone is as rough as this (computed: nine in ten simulated washes in order). */
const SPLASH_ROUGHNESS_DB = 3;
const LONGEST_SECONDS = 2;

/** Modulation of one octave in some stretches of the clip. */
interface Modulation {
  /** Squared modulation index in the growl's rates, mains rates left out. */
  readonly index: number;
  /** What Gaussian noise of the octave's width has in the same rates. */
  readonly ofNoise: number;
  /** Mean power. */
  readonly power: number;
  readonly count: number;
}

const nearMains = (hz: number, lineHz: number | null): boolean =>
  (lineHz === null ? [100, 120] : [1, 2, 3, 4].map((k) => k * lineHz)).some(
    (mains) => Math.abs(hz - mains) < 5,
  );

// Spectrum of the power about its slow course, over its mean: one stretch adds to `sum`.
function addSpectrum(power: Float64Array, from: number, to: number, sum: Float64Array): number {
  const n = to - from;
  const window = windowOf("hann", n);
  const block = new Float64Array(FFT_SIZE);
  const half = Math.round(0.05 * RATE_HZ);
  let level = 0;
  let squares = 0;
  for (let i = 0; i < n; i++) {
    let local = 0;
    const low = Math.max(0, i - half);
    const high = Math.min(n, i + half + 1);
    for (let j = low; j < high; j++) local += power[from + j]!;
    local /= high - low;
    level += power[from + i]!;
    // Limited, so that a few clicks do not pass for growl.
    block[i] = Math.min(3, power[from + i]! / (local + 1e-14) - 1) * window[i]!;
    squares += window[i]! ** 2;
  }
  const bins = new Float64Array(2 * FFT_SIZE);
  fftPlan(FFT_SIZE).forwardReal(block, bins);
  const scale = 2 / (RATE_HZ * squares);
  for (let k = 0; k < sum.length; k++)
    sum[k]! += scale * (bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2);
  return level / n;
}

function modulationOf(
  power: Float64Array,
  stretches: readonly Stroke[],
  bandHz: number,
  lineHz: number | null,
): Modulation {
  const sum = new Float64Array(FFT_SIZE / 2);
  let level = 0;
  let count = 0;
  for (const { startSeconds, endSeconds } of stretches) {
    const end = Math.min(endSeconds, startSeconds + LONGEST_SECONDS);
    const from = Math.round(startSeconds * RATE_HZ);
    const to = Math.min(power.length, Math.round(end * RATE_HZ));
    if (to - from < SHORTEST_SECONDS * RATE_HZ) continue;
    level += addSpectrum(power, from, to, sum);
    count++;
  }
  let index = 0;
  let ofNoise = 0;
  const binHz = RATE_HZ / FFT_SIZE;
  for (let k = 0; k < sum.length; k++) {
    const hz = k * binHz;
    if (hz < GROWL_HZ[0] || hz > GROWL_HZ[1] || nearMains(hz, lineHz)) continue;
    index += (sum[k]! * binHz) / Math.max(1, count);
    // Squared envelope of noise of width B: S(f) = 2/B (1 - f/B), one-sided, over its mean squared.
    ofNoise += ((2 * binHz) / bandHz) * Math.max(0.05, 1 - hz / bandHz);
  }
  return { index, ofNoise, power: level / Math.max(1, count), count };
}

const insides = (strokes: readonly Stroke[]): Stroke[] =>
  strokes.map(({ startSeconds, endSeconds }) => ({
    startSeconds: startSeconds + Math.min(START_SECONDS, (endSeconds - startSeconds) / 4),
    endSeconds: endSeconds - Math.min(STOP_SECONDS, (endSeconds - startSeconds) / 6),
  }));

function pauses(strokes: readonly Stroke[]): Stroke[] {
  return strokes.slice(1).map((stroke, i) => ({
    startSeconds: strokes[i]!.endSeconds + STOP_SECONDS,
    endSeconds: stroke.startSeconds - 0.02,
  }));
}

/** Growl of one octave over what noise of its width would have: 0 when there is none. */
function excess(context: ListeningContext, band: BandName, pattern: StrokePattern): number | null {
  const [low, high] = BANDS[band];
  const count = Math.floor((context.sound.length / context.soundRateHz) * RATE_HZ);
  const power = framePower(context.envelope(band), count, RATE_HZ);
  const width = 0.9 * (high - low);
  const { lineHz } = context.speed;
  const inside = modulationOf(power, insides(pattern.strokes), width, lineHz);
  if (inside.count < 2) return null;
  const pause = modulationOf(power, pauses(pattern.strokes), width, lineHz);
  // What growls in the pauses as well is another noise: its part of the strokes' sound is taken off.
  const share = inside.power > 0 ? Math.min(1, pause.power / inside.power) : 1;
  const other = pause.count < 2 ? 0 : Math.max(0, pause.index - pause.ofNoise) * share * share;
  return Math.max(0, inside.index - inside.ofNoise - other) / inside.ofNoise;
}

/**
 * Growl inside the strokes, dB: the sum of two signs, each 0 for the rush of water, hum and one whine. Roughness: modulation at 20-230 Hz (mains rates left out) over that of plain noise, in the two
 * octaves of 60-7500 Hz that show it best, less what the pauses have and less 3 dB for splashing. Comb: harmonics of one gear-mesh
 * rate over combs that are none.
 */
export function strokeGrowl(context: ListeningContext, pattern: StrokePattern): Measurement {
  const shown = soundFrames(context)
    .octaves.map(({ band }) => excess(context, band, pattern))
    .filter((value): value is number => value !== null)
    .sort((a, b) => b - a);
  if (shown.length < 2) return missing("short");
  const roughnessDb = 10 * Math.log10(1 + (shown[0]! + shown[1]!) / 2);
  const comb = meshComb(context, pattern);
  const combDb = Math.max(0, comb?.overDecoysDb ?? 0);
  const count = pattern.strokes.length;
  const quality = (eventTrust(context) * count) / (count + 3);
  return measured(combDb + Math.max(0, roughnessDb - SPLASH_ROUGHNESS_DB), quality, {
    strokes: count,
    roughnessDb,
    combDb,
    ...(comb && combDb > 1 ? { hz: comb.hz } : {}),
  });
}
