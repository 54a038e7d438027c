import { median, quantile } from "../../foundation/statistics.js";
import { thirdOctavesWithin } from "../../signal/octave-bands.js";
import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { bandPower, groupFrames, type FrameGroup, type SoundFrames } from "./sound-frames.js";

const FRAMES_PER_GROUP = 16;
const FRAMES_PER_HALF_SECOND = 8;

function bandFlatness({ values, binHz }: FrameGroup, lowHz: number, highHz: number): number {
  const low = Math.ceil(lowHz / binHz);
  const high = Math.floor(highHz / binHz);
  let logs = 0;
  let sum = 0;
  for (let k = low; k <= high; k++) {
    logs += Math.log(values[k]! + 1e-20);
    sum += values[k]!;
  }
  const count = high - low + 1;
  return Math.exp(logs / count) / (sum / count);
}

function flatness(context: ListeningContext, groups: readonly FrameGroup[]): Measurement {
  const bands = thirdOctavesWithin(1000, Math.min(6000, context.recording.bandHz[1]));
  if (bands.length < 3) return missing("band");
  const values = groups.map((group) =>
    median(bands.map(({ lowHz, highHz }) => bandFlatness(group, lowHz, highHz))),
  );
  return measured(median(values), context.recording.quality.voiceCodec ? 0.5 : 1);
}

const medianRatio = (
  groups: readonly FrameGroup[],
  part: readonly [number, number],
  whole: readonly [number, number],
): number => median(groups.map((group) => bandPower(group, ...part) / bandPower(group, ...whole)));

function steadiness(context: ListeningContext, short: SoundFrames): Measurement {
  const [bandLow, bandHigh] = context.recording.bandHz;
  const levels = groupFrames(short, FRAMES_PER_HALF_SECOND).map(
    (group) => 10 * Math.log10(bandPower(group, Math.max(90, bandLow), Math.min(7500, bandHigh))),
  );
  if (levels.length < 4) return missing("short");
  return measured(
    quantile(levels, 0.9) - quantile(levels, 0.1),
    context.recording.quality.gainPumping ? 0.4 : 1,
  );
}

/**
 * Part of the power of 90-7500 Hz that is noise above 1 kHz without modulation: share above 1 kHz, times
 * flatness inside thirds of an octave, times exp(-m²/0.1) with m² the modulation of 2-150 Hz.
 */
function jetHiss(highShare: number, flat: Measurement, modulation: readonly Measurement[]) {
  if (flat.value === null) return flat;
  let square = 0;
  for (const { value, missing: reason } of modulation) {
    if (value === null) return missing(reason ?? "short");
    square += value ** 2;
  }
  return measured(highShare * flat.value * Math.exp(-square / 0.1), flat.quality);
}

type BalanceId =
  "flatness" | "high-band-share" | "low-band-share" | "loudness-steadiness" | "jet-hiss";

/** How the power is spread over the bands, and how steady it is. */
export function observeBalance(
  context: ListeningContext,
  short: SoundFrames,
  modulation: { readonly roughness: Measurement; readonly fluctuation: Measurement },
): Record<BalanceId, Measurement> {
  const groups = groupFrames(short, FRAMES_PER_GROUP);
  const steady = steadiness(context, short);
  if (groups.length < 2) {
    const gone = missing("short");
    return {
      flatness: gone,
      "high-band-share": gone,
      "low-band-share": gone,
      "loudness-steadiness": steady,
      "jet-hiss": gone,
    };
  }
  const [bandLow, bandHigh] = context.recording.bandHz;
  const top = Math.min(7500, bandHigh);
  const flat = flatness(context, groups);
  return {
    flatness: flat,
    "high-band-share":
      bandHigh < 6000
        ? missing("band")
        : measured(medianRatio(groups, [4000, top], [1000, top]), 1),
    "low-band-share":
      bandHigh < 3300 || bandLow > 250
        ? missing("band")
        : measured(medianRatio(groups, [90, 400], [90, 4000]), bandLow > 150 ? 0.6 : 1),
    "loudness-steadiness": steady,
    "jet-hiss":
      bandHigh < 5000
        ? missing("band")
        : jetHiss(medianRatio(groups, [1000, top], [90, top]), flat, [
            modulation.roughness,
            modulation.fluctuation,
          ]),
  };
}
