import { mean, median, quantile } from "../../foundation/statistics.js";
import { butterworth, filterThrough } from "../../signal/butterworth.js";
import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { LEVEL_RATE_HZ } from "./contact-levels.js";
import { thinned, type Series } from "./level-series.js";
import { usableShare } from "./sound-frames.js";

const BLOCK_SECONDS = 0.5;
/** Crackle fills nearly every tenth of a second; a few clicks a second do not. */
const CRACKLE_BLOCK_SECONDS = 0.1;
/** Level of 2 ms over the middle level round it from which it is an impulse: amplitude 3.2, 10 dB. */
const IMPULSE_POWER_RATIO = 3.2 ** 2;
const IMPULSE_RATE_HZ = 500;
const DEAD_SECONDS = 0.01;

/** Blocks of a series that are usable throughout. */
function usableBlocks(
  context: ListeningContext,
  { values, rateHz }: Series,
  blockSeconds = BLOCK_SECONDS,
): Float64Array[] {
  const share = usableShare(context);
  const length = Math.round(blockSeconds * rateHz);
  const blocks: Float64Array[] = [];
  for (let start = 0; start + length <= values.length; start += length) {
    if (share(start / rateHz, (start + length) / rateHz) < 0.95) continue;
    blocks.push(values.subarray(start, start + length));
  }
  return blocks;
}

/**
 * Excess kurtosis of a narrow-band signal from its squared envelope p: 1.5 E[p²] / E[p]² - 3.
 * 0 for Gaussian noise, -1.5 for a tone, as for the samples themselves.
 */
export function kurtosisFromPower(power: Float64Array): number {
  let first = 0;
  let second = 0;
  for (const p of power) {
    first += p;
    second += p * p;
  }
  return (1.5 * power.length * second) / (first * first) - 3;
}

/**
 * Excess kurtosis that two octaves owe to bursts they share: 3 (E[p q] / (E[p] E[q]) - 1).
 *
 * Equal to the excess kurtosis of Gaussian noise whose level both follow; 0 for any two independent
 * sounds, tones among them.
 */
export function sharedKurtosis(p: Float64Array, q: Float64Array): number {
  let first = 0;
  let second = 0;
  let both = 0;
  for (let i = 0; i < p.length; i++) {
    first += p[i]!;
    second += q[i]!;
    both += p[i]! * q[i]!;
  }
  return 3 * ((p.length * both) / (first * second) - 1);
}

function medianOverBlocks(context: ListeningContext, values: readonly number[]): Measurement {
  const known = values.filter(Number.isFinite);
  if (known.length < 3) return missing("short");
  const { clippedShare, noiseSuppressed } = context.recording.quality;
  // Clipping takes the tops off; suppression of steady sound leaves the impulses standing alone.
  const trust = (clippedShare > 0.001 ? 0.3 : 1) * (noiseSuppressed ? 0.4 : 1);
  return measured(median(known), trust, { high: quantile(known, 0.9) });
}

/** Median over blocks of the mean over pairs of octaves. */
function sharedImpulsiveness(
  context: ListeningContext,
  levels: readonly Series[],
  blockSeconds = BLOCK_SECONDS,
): Measurement {
  if (levels.length < 2) return missing("band");
  const blocks = levels.map((level) => usableBlocks(context, level, blockSeconds));
  const values = blocks[0]!.map((_, b) => {
    const pairs: number[] = [];
    for (let i = 0; i < levels.length; i++) {
      for (let j = i + 1; j < levels.length; j++) {
        pairs.push(sharedKurtosis(blocks[i]![b]!, blocks[j]![b]!));
      }
    }
    return mean(pairs);
  });
  return medianOverBlocks(context, values);
}

/** Kurtosis of the whole contact band, with the part that its octaves share as detail. */
function impulsiveness(context: ListeningContext, levels: readonly Series[]): Measurement {
  const contact = context.envelope("contact");
  const blocks = usableBlocks(context, { values: contact.power, rateHz: contact.sampleRateHz });
  const whole = medianOverBlocks(context, blocks.map(kurtosisFromPower));
  const shared = sharedImpulsiveness(context, levels).value;
  if (whole.value === null || shared === null) return whole;
  return measured(whole.value, whole.quality, { ...whole.detail, shared });
}

/** Impulses that reach above 6 kHz, in nearly each 0.1 s: shared kurtosis of 2-4 kHz and of what lies above 6 kHz. */
function crackle(context: ListeningContext): Measurement {
  const rate = context.soundRateHz;
  const high = filterThrough(context.sound, butterworth("high", 4, 6000 / rate));
  for (let i = 0; i < high.length; i++) high[i]! *= high[i]!;
  const wide = { lowHz: 6000, highHz: 8000, power: high, sampleRateHz: rate };
  const levels = [context.envelope("octave-2k"), wide].map((band) => thinned(band, LEVEL_RATE_HZ));
  return sharedImpulsiveness(context, levels, CRACKLE_BLOCK_SECONDS);
}

/** Times of impulses: 2 ms levels 10 dB over the median of the half second round them. */
function impulseTimes(context: ListeningContext): number[] {
  const level = thinned(context.envelope("contact"), IMPULSE_RATE_HZ);
  const share = usableShare(context);
  const length = Math.round(BLOCK_SECONDS * level.rateHz);
  const dead = Math.round(DEAD_SECONDS * level.rateHz);
  const times: number[] = [];
  let last = -Infinity;
  for (let start = 0; start + length <= level.values.length; start += length) {
    const floor = IMPULSE_POWER_RATIO * median(level.values.subarray(start, start + length));
    for (let i = Math.max(1, start); i < start + length; i++) {
      const value = level.values[i]!;
      if (value < floor || value < level.values[i - 1]! || value < (level.values[i + 1] ?? 0)) {
        continue;
      }
      const seconds = i / level.rateHz;
      if (i - last < dead || share(seconds - 0.02, seconds + 0.02) < 0.9) continue;
      times.push(seconds);
      last = i;
    }
  }
  return times;
}

/**
 * Irregularity of gaps: mean of 2 |g - g'| / (g + g') over neighbouring gaps. 1 for a Poisson process, 0
 * for a clock; unlike the plain coefficient of variation it does not grow when the rate drifts.
 * Source: Holt, Softky, Koch and Douglas, J. Neurophysiol. 75 (1996) 1806-1814 (cited from memory).
 */
function irregularity(times: readonly number[]): number {
  const gaps = times.slice(1).map((time, i) => time - times[i]!);
  return mean(
    gaps.slice(1).map((gap, i) => (2 * Math.abs(gap - gaps[i]!)) / (gap + gaps[i]! + 1e-9)),
  );
}

/** Faster than a drum or a belt turns, slower than the dead time lets through. */
const FAST_TICKS_HZ = [12, 90] as const;

/**
 * How even fast ticks are: 1 - irregularity over what a Poisson process of that rate with the same dead
 * time would have (1 - rate · dead time, to first order). 1 for a clock, 0 for chance.
 */
function evenTicks(times: readonly number[], seconds: number): Measurement {
  const rate = times.length / seconds;
  if (rate < FAST_TICKS_HZ[0] || rate > FAST_TICKS_HZ[1]) return missing("no-events");
  const byChance = 1 - rate * DEAD_SECONDS;
  const value = Math.max(0, 1 - irregularity(times) / byChance);
  return measured(value, Math.min(1, times.length / 100), { hz: rate });
}

type ImpulseId =
  | "impulsiveness"
  | "impulsiveness-low"
  | "crackle"
  | "impulse-rate"
  | "impulse-irregularity"
  | "even-ticks";

/**
 * How impulsive the clip is, and how regularly its impulses come.
 *
 * Kurtosis is excess (0 for noise), the median over half seconds: `impulsiveness` that of 1-6 kHz (detail:
 * what its octaves share), `impulsiveness-low` that of 60-500 Hz, `crackle` what 2-4 kHz shares with the
 * band above 6 kHz, in blocks of 0.1 s.
 *
 * @param levels as `contactLevels` gives them
 */
export function observeImpulses(
  context: ListeningContext,
  levels: readonly Series[],
): Record<ImpulseId, Measurement> {
  const [bandLow, bandHigh] = context.recording.bandHz;
  const narrow = bandHigh < 3000;
  const times = narrow ? [] : impulseTimes(context);
  const clipSeconds = context.recording.durationSeconds;
  const seconds = usableShare(context)(0, clipSeconds) * clipSeconds;
  const trust = context.recording.quality.clippedShare > 0.001 ? 0.5 : 1;
  const low = context.envelope("low-blow");
  const lowBlocks = usableBlocks(context, { values: low.power, rateHz: low.sampleRateHz });
  return {
    impulsiveness: narrow ? missing("band") : impulsiveness(context, levels),
    "impulsiveness-low":
      bandLow > 300 ? missing("band") : medianOverBlocks(context, lowBlocks.map(kurtosisFromPower)),
    crackle: bandHigh < 7000 ? missing("band") : crackle(context),
    "impulse-rate": narrow
      ? missing("band")
      : seconds < 2
        ? missing("short")
        : measured(times.length / seconds, trust),
    "even-ticks": narrow
      ? missing("band")
      : seconds < 2
        ? missing("short")
        : evenTicks(times, seconds),
    "impulse-irregularity":
      times.length < 10
        ? missing(narrow ? "band" : "no-events")
        : measured(irregularity(times), Math.min(1, times.length / 30)),
  };
}
