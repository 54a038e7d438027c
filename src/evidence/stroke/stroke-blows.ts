import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { studentTail } from "../event/tails.js";
import { eventTrust } from "../event/trust.js";
import { FRAME_RATE_HZ, soundFrames, type OctaveFrames } from "../event/sound-frames.js";
import { mean, median, quantile, variance } from "../../foundation/statistics.js";
import type { Stroke, StrokePattern } from "./find-strokes.js";

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

// How far clicks stand out of a stroke: mean of its highest tenth of frames over its median, dB.
function clickStrength(octaves: readonly OctaveFrames[], stroke: Stroke): number | null {
  const first = Math.round(stroke.startSeconds * FRAME_RATE_HZ) + 8;
  const last = Math.round(stroke.endSeconds * FRAME_RATE_HZ) - 8;
  if (last - first < 20) return null;
  const sum = new Float64Array(last - first);
  for (const { power } of octaves) {
    const level = median(power.subarray(first, last)) + 1e-14;
    for (let i = 0; i < sum.length; i++) sum[i]! += power[first + i]! / level / octaves.length;
  }
  const from = quantile(sum, 0.9);
  const high = sum.filter((v) => v >= from);
  return 10 * Math.log10(mean(high));
}

// Strokes are counted by the clock, so that one that was not heard does not swap odd and even.
function parities(pattern: StrokePattern): number[] {
  let index = 0;
  return pattern.strokes.map((stroke, i) => {
    if (i > 0) {
      const gap = stroke.startSeconds - pattern.strokes[i - 1]!.startSeconds;
      index += Math.max(1, Math.round(gap / pattern.periodSeconds));
    }
    return index % 2;
  });
}

/**
 * Clicks (0.5-7.5 kHz) of every second stroke against the strokes between, dB, less what chance
 * gives for so many strokes (the difference is drawn to 0 within two of its standard errors).
 */
export function strokeOneWay(context: ListeningContext, pattern: StrokePattern): Measurement {
  if (pattern.kind !== "agitation") return missing("no-events");
  const octaves = soundFrames(context).octaves.filter(({ centreHz }) => centreHz > 500);
  if (octaves.length === 0) return missing("band");
  const parity = parities(pattern);
  const groups: [number[], number[]] = [[], []];
  pattern.strokes.forEach((stroke, i) => {
    const strength = clickStrength(octaves, stroke);
    if (strength !== null) groups[parity[i]! as 0 | 1].push(strength);
  });
  const [even, odd] = groups;
  if (even.length < 4 || odd.length < 4) return missing("short");
  const difference = Math.abs(mean(even) - mean(odd));
  const error = Math.sqrt(
    variance(even) / (even.length - 1) + variance(odd) / (odd.length - 1) + 1e-9,
  );
  const kept = difference * Math.max(0, 1 - ((2 * error) / difference) ** 2);
  const count = even.length + odd.length;
  return measured(kept, (eventTrust(context) * count) / (count + 6), {
    strokes: count,
    p: Math.min(1, 2 * studentTail(difference / error, count - 2)),
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
