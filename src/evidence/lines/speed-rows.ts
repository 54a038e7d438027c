import { fitLine, quantile } from "../../foundation/statistics.js";
import { spectrogram, welch } from "../../signal/spectrum.js";
import { runningMedian } from "../../signal/running-median.js";
import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import type { FeatureId } from "../features.data.js";
import { measured, missing } from "../measurement.js";

const LEAST_POINTS = 8;
/** The speed must at least grow by this factor for a slope to mean something. */
const LEAST_SPAN = 1.3;
const LEVEL_BAND_HZ = [500, 6000] as const;
const BUZZ_BAND_HZ = [80, 1600] as const;
const BUZZ_WIDTH_HZ = 40;

interface Frames {
  readonly powers: readonly Float64Array[];
  readonly binHz: number;
  readonly seconds: readonly number[];
}

function framesOf(context: ListeningContext): Frames {
  const { frames, binHz, hopSeconds, halfWindowSeconds } = spectrogram(
    context.sound,
    context.soundRateHz,
    { length: 4096, hop: 4096 },
  );
  return {
    powers: frames,
    binHz,
    seconds: frames.map((_, i) => i * hopSeconds + halfWindowSeconds),
  };
}

function sum(power: Float64Array, binHz: number, lowHz: number, highHz: number): number {
  let total = 1e-30;
  for (let k = Math.ceil(lowHz / binHz); k <= highHz / binHz; k++) total += power[k]!;
  return total;
}

function rpmAt(context: ListeningContext, seconds: number): number | null {
  const { track, hopSeconds } = context.speed;
  const point = track[Math.round(seconds / hopSeconds)];
  return point?.drumRpm ?? null;
}

function levelSlope(context: ListeningContext, frames: Frames): Measurement {
  const logRpm: number[] = [];
  const level: number[] = [];
  frames.powers.forEach((power, i) => {
    const rpm = rpmAt(context, frames.seconds[i]!);
    if (rpm === null || rpm <= 0) return;
    logRpm.push(Math.log10(rpm));
    level.push(10 * Math.log10(sum(power, frames.binHz, ...LEVEL_BAND_HZ)));
  });
  if (logRpm.length < LEAST_POINTS) return missing("speed");
  const span = 10 ** (Math.max(...logRpm) - Math.min(...logRpm));
  if (span < LEAST_SPAN) return missing("speed");
  const quality = context.recording.quality.gainPumping ? 0.2 : 1;
  return measured(fitLine(logRpm, level).slope, quality);
}

/** How far a narrow band of fixed frequency swells over its own usual share of the sound. */
function fixedBuzz(context: ListeningContext, frames: Frames): Measurement {
  const { movement } = context.speed;
  if (movement === "still" || frames.powers.length < LEAST_POINTS) return missing("speed");
  const whole = frames.powers.map((power) => sum(power, frames.binHz, 80, 6000));
  let best = { swell: -Infinity, hz: 0, frame: 0 };
  for (let hz = BUZZ_BAND_HZ[0]; hz < BUZZ_BAND_HZ[1]; hz += BUZZ_WIDTH_HZ / 2) {
    const share = frames.powers.map(
      (power, i) => 10 * Math.log10(sum(power, frames.binHz, hz, hz + BUZZ_WIDTH_HZ) / whole[i]!),
    );
    const swell = quantile(share, 0.92) - quantile(share, 0.5);
    if (swell > best.swell) {
      best = { swell, hz: hz + BUZZ_WIDTH_HZ / 2, frame: share.indexOf(Math.max(...share)) };
    }
  }
  const rpm = rpmAt(context, frames.seconds[best.frame]!);
  const detail = { hz: best.hz, ...(rpm === null ? {} : { rpm }) };
  return measured(best.swell, movement === "unknown" ? 0.5 : 1, detail);
}

/** A tone above 7 kHz that stands still: an inverter's carrier. Read from the full-rate recording. */
function carrier(context: ListeningContext): Measurement {
  const { samples, sampleRateHz, bandHz } = context.recording;
  if (bandHz[1] < 8000 || samples.length < 65_536) return missing("band");
  const { values: power, binHz } = welch(samples, sampleRateHz, { segmentLength: 8192 });
  const background = runningMedian(power, Math.round(400 / binHz));
  let top = { db: 0, hz: 0 };
  const highest = Math.min(bandHz[1] * 0.97, 20_000, (power.length - 2) * binHz);
  for (let k = Math.ceil(7000 / binHz); k < highest / binHz; k++) {
    const db = 10 * Math.log10(power[k]! / (background[k]! + 1e-30));
    if (db > top.db) top = { db, hz: k * binHz };
  }
  return measured(top.db, 1, { hz: top.hz });
}

/** Rows of the catalogue that follow how levels and bands move with the drum's speed. */
export function speedRows(context: ListeningContext): Partial<Record<FeatureId, Measurement>> {
  const frames = framesOf(context);
  return {
    "level-slope": levelSlope(context, frames),
    "fixed-buzz": fixedBuzz(context, frames),
    carrier: carrier(context),
  };
}
