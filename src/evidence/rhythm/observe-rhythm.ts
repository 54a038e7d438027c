import { clamp, median, quantiles } from "../../foundation/statistics.js";
import { blockPower } from "../../signal/spectrum.js";
import { runningMedian } from "../../signal/running-median.js";
import { BANDS, type BandName, type ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import type { FeatureId } from "../features.data.js";
import { measured, missing } from "../measurement.js";
import { swellFeature } from "./passing-swell.js";

const OCTAVES = ["octave-500", "octave-1k", "octave-2k", "octave-4k"] as const;
const LEVEL_RATE_HZ = 100;
const WINDOW_SECONDS = 2.56;
const FFT_SIZE = 1024;
const LOWEST_HZ = 1.2;
const HIGHEST_HZ = 26;
/** Half-width of the background of the level's spectrum, Hz. */
const BACKGROUND_HZ = 4;
const HARMONICS = [1, 2, 3] as const;
const HARMONIC_WEIGHTS = [1, 0.6, 0.4] as const;
const LEAST_SECONDS = 4;
/** A single mean over 10 ms of a silent stretch must not become minus infinity. */
const FLOOR_SHARE = 1e-4;

/** Level in nats on a 100 Hz grid: ln of the band's mean power in each step. Shape [steps]. */
function levelOf(context: ListeningContext, band: BandName): Float64Array {
  const { power, sampleRateHz } = context.envelope(band);
  const step = sampleRateHz / LEVEL_RATE_HZ;
  const level = new Float64Array(Math.floor(power.length / step));
  let total = 0;
  for (let i = 0; i < power.length; i++) total += power[i]!;
  const floor = FLOOR_SHARE * (total / power.length) + 1e-30;
  for (let i = 0; i < level.length; i++) {
    const first = Math.floor(i * step);
    const last = Math.max(first + 1, Math.floor((i + 1) * step));
    let sum = 0;
    for (let j = first; j < last; j++) sum += power[j]!;
    level[i] = Math.log(sum / (last - first) + floor);
  }
  return level;
}

/** Strongest harmonic family in one window: ln ratio to the background, and its rate. */
function beatOf(level: Float64Array, start: number, length: number): { nats: number; hz: number } {
  let mean = 0;
  for (let i = 0; i < length; i++) mean += level[start + i]! / length;
  const centred = level.slice(start, start + length).map((value) => value - mean);
  const power = blockPower(centred, 0, length, FFT_SIZE);
  const binHz = LEVEL_RATE_HZ / FFT_SIZE;
  const background = runningMedian(power, Math.round(BACKGROUND_HZ / binHz));
  const excess = (k: number): number =>
    k < power.length ? clamp(Math.log(power[k]! / (background[k]! + 1e-30)), -0.5, 5) : 0;
  let best = { nats: -Infinity, hz: 0 };
  for (let k = Math.ceil(LOWEST_HZ / binHz); k <= HIGHEST_HZ / binHz; k++) {
    let sum = 0;
    HARMONICS.forEach((h, i) => {
      sum += HARMONIC_WEIGHTS[i]! * excess(h * k);
    });
    if (sum > best.nats) best = { nats: sum, hz: k * binHz };
  }
  return best;
}

const NATS_TO_DB = 10 / Math.LN10;

function beatFeature(level: Float64Array): Measurement {
  const length = Math.round(WINDOW_SECONDS * LEVEL_RATE_HZ);
  const beats: { nats: number; hz: number }[] = [];
  for (let start = 0; start + length <= level.length; start += length / 2) {
    beats.push(beatOf(level, start, length));
  }
  if (beats.length < 2) return missing("short");
  const nats = median(beats.map((beat) => beat.nats));
  return measured(nats * NATS_TO_DB, 1, { hz: median(beats.map((beat) => beat.hz)) });
}

/** Range of the level once its half-second trend is taken out: how hard it swings, whatever the rhythm. */
function swingFeature(level: Float64Array): Measurement {
  const trend = runningMedian(level, LEVEL_RATE_HZ / 2);
  const pairs = new Float64Array(level.length >> 1);
  for (let i = 0; i < pairs.length; i++) {
    pairs[i] = (level[2 * i]! + level[2 * i + 1]!) / 2 - trend[2 * i]!;
  }
  const [low, high] = quantiles(pairs, [0.1, 0.9]) as [number, number];
  return measured((high - low) * NATS_TO_DB, 1);
}

/** The octaves above the dull band that the recording carries to at least half. */
function highOctaves(context: ListeningContext): BandName[] {
  const top = context.recording.bandHz[1];
  return OCTAVES.filter((band) => Math.sqrt(BANDS[band][0] * BANDS[band][1]) <= top);
}

/**
 * Rhythm of the level without knowing the drum's speed: how strong the strongest beat is, and how hard
 * the level swings, in the low band (blows) and the high one (contact).
 *
 * The beat is the largest weighted sum over three harmonics of ln(power / running median) of the level's
 * spectrum in 2.56 s windows, median over windows, in dB; noise alone gives about 12 dB.
 */
export function observeRhythm(context: ListeningContext): Partial<Record<FeatureId, Measurement>> {
  if (context.sound.length / context.soundRateHz < LEAST_SECONDS) {
    const short = missing("short");
    return {
      "beat-low": short,
      "beat-high": short,
      "swing-low": short,
      "swing-high": short,
      "swell-low": short,
      "swell-high": short,
    };
  }
  const low = levelOf(context, "low-blow");
  const high = levelOf(context, "contact");
  const carriesHigh = context.recording.bandHz[1] >= 2500;
  return {
    "swell-low": swellFeature(context, ["low-blow"]),
    "swell-high": swellFeature(context, highOctaves(context)),
    "beat-low": beatFeature(low),
    "swing-low": swingFeature(low),
    "beat-high": carriesHigh ? beatFeature(high) : missing("band"),
    "swing-high": carriesHigh ? swingFeature(high) : missing("band"),
  };
}
