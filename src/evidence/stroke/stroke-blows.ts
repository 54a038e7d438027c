import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { eventTrust } from "../event/trust.js";
import { FRAME_RATE_HZ, soundFrames, type OctaveFrames } from "../event/sound-frames.js";
import { mean, median, quantile } from "../../foundation/statistics.js";
import type { Stroke, StrokePattern } from "./stroke-pattern.js";

const EDGE_SECONDS = 0.06;

// Loudest octave-averaged frame of a stretch over the stroke's own median, dB.
function peakDb(
  octaves: readonly OctaveFrames[],
  levels: readonly number[],
  from: number,
  to: number,
): number {
  let peak = 0;
  for (let i = Math.max(0, from); i < to; i++) {
    let sum = 0;
    for (let k = 0; k < octaves.length; k++) sum += (octaves[k]!.power[i] ?? 0) / levels[k]!;
    peak = Math.max(peak, sum / octaves.length);
  }
  return 10 * Math.log10(peak + 1e-9);
}

interface EdgeBlow {
  readonly start: number;
  readonly end: number;
}

function edgeBlow(octaves: readonly OctaveFrames[], stroke: Stroke): EdgeBlow | null {
  const first = Math.round(stroke.startSeconds * FRAME_RATE_HZ);
  const last = Math.round(stroke.endSeconds * FRAME_RATE_HZ);
  const edge = Math.round(EDGE_SECONDS * FRAME_RATE_HZ);
  const inner: [number, number] = [first + edge + 8, last - edge];
  if (inner[1] - inner[0] < edge) return null;
  const levels = octaves.map(({ power }) => median(power.subarray(...inner)) + 1e-14);
  // The same search inside the stroke says what its noise reaches by chance.
  const chance: number[] = [];
  for (let at = inner[0]; at + 2 * edge <= inner[1] || chance.length === 0; at += 2 * edge) {
    chance.push(peakDb(octaves, levels, at, Math.min(inner[1], at + 2 * edge)));
  }
  const expected = median(chance);
  return {
    start: peakDb(octaves, levels, first - edge, first + edge) - expected,
    end: peakDb(octaves, levels, last - edge, last + edge) - expected,
  };
}

/**
 * A single blow at the start or the end of the strokes, dB over the highest that the stroke's own
 * noise reaches in as long a time; median over the strokes (the least of two or three), of start and end the clearer one.
 * Near or below 0 without a blow.
 */
export function strokeClack(context: ListeningContext, pattern: StrokePattern): Measurement {
  const { octaves } = soundFrames(context);
  const blows = pattern.strokes
    .map((stroke) => edgeBlow(octaves, stroke))
    .filter((blow): blow is EdgeBlow => blow !== null);
  if (blows.length < 2) return missing("short");
  // Of two or three the weakest counts, so that one stray bang is no habit.
  const share = blows.length <= 3 ? 0 : 0.5;
  const start = quantile(
    blows.map((blow) => blow.start),
    share,
  );
  const end = quantile(
    blows.map((blow) => blow.end),
    share,
  );
  return measured(Math.max(start, end), (eventTrust(context) * blows.length) / (blows.length + 3), {
    strokes: blows.length,
    at: start >= end ? "start" : "end",
  });
}

/**
 * Impulsiveness inside the strokes: excess kurtosis of the sound in 1-6 kHz, mean over blocks of
 * 0.12 s with the highest tenth left out. From the squared envelope P: 1.5 <P²>/<P>² - 3, 0 for noise.
 */
export function strokeRattle(context: ListeningContext, pattern: StrokePattern): Measurement {
  const { power, sampleRateHz } = context.envelope("contact");
  const length = Math.round(0.12 * sampleRateHz);
  const values: number[] = [];
  for (const { startSeconds, endSeconds } of pattern.strokes) {
    const end = Math.min(power.length, Math.round((endSeconds - 0.04) * sampleRateHz));
    for (
      let at = Math.round((startSeconds + 0.06) * sampleRateHz);
      at + length <= end;
      at += length
    ) {
      let sum = 0;
      let squares = 0;
      for (let i = at; i < at + length; i++) {
        sum += power[i]!;
        squares += power[i]! ** 2;
      }
      if (sum > 0) values.push((1.5 * length * squares) / (sum * sum) - 3);
    }
  }
  if (values.length < 6) return missing("short");
  const limit = quantile(values, 0.9);
  const value = mean(values.filter((v) => v <= limit));
  return measured(value, (eventTrust(context) * values.length) / (values.length + 10), {
    blocks: values.length,
  });
}
