import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { studentTail } from "../event/tails.js";
import { eventTrust } from "../event/trust.js";
import { FRAME_RATE_HZ, soundFrames } from "../event/sound-frames.js";
import { mean, quantiles, variance } from "../../foundation/statistics.js";
import type { Stroke, StrokePattern } from "./stroke-pattern.js";

const FEWEST_EACH_WAY = 4;
/** Octaves are tried one by one, so that the best of five needs a wider margin than two errors. */
const ERRORS_FORGIVEN = 2.5;

/**
 * How clicks raise one stroke in one octave, dB: its 90 % level less half its median. Clicks stand out
 * of the median and, where they follow each other fast, lift it; a motor that merely runs louder
 * one way counts by half.
 */
function clickLevel(power: Float64Array, stroke: Stroke): number | null {
  const first = Math.round(stroke.startSeconds * FRAME_RATE_HZ) + 5;
  const last = Math.round(stroke.endSeconds * FRAME_RATE_HZ) - 5;
  if (last - first < 15) return null;
  const [middle, high] = quantiles(power.subarray(first, last), [0.5, 0.9]) as [number, number];
  return 10 * Math.log10(high + 1e-14) - 5 * Math.log10(middle + 1e-14);
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

interface Difference {
  readonly keptDb: number;
  readonly p: number;
  readonly strokes: number;
}

function alternation(
  values: readonly (number | null)[],
  parity: readonly number[],
): Difference | null {
  const way = (odd: number): number[] =>
    values.flatMap((value, i) => (value !== null && parity[i] === odd ? [value] : []));
  const [out, back] = [way(0), way(1)];
  if (out.length < FEWEST_EACH_WAY || back.length < FEWEST_EACH_WAY) return null;
  const difference = Math.abs(mean(out) - mean(back));
  const error = Math.sqrt(
    variance(out) / (out.length - 1) + variance(back) / (back.length - 1) + 1e-9,
  );
  const margin = Math.min(1, (ERRORS_FORGIVEN * error) / (difference + 1e-9));
  const strokes = out.length + back.length;
  return {
    keptDb: difference * (1 - margin * margin),
    p: Math.min(1, 2 * studentTail(difference / error, strokes - 2)),
    strokes,
  };
}

/**
 * Clicks of every second stroke against the strokes between, dB, in the octave of 0.5-7.5 kHz that shows
 * it best; drawn to 0 within two and a half standard errors, so that chance gives 0. Needs eight strokes
 * of an agitator.
 */
export function strokeOneWay(context: ListeningContext, pattern: StrokePattern): Measurement {
  if (pattern.kind !== "agitation") return missing("no-events");
  const octaves = soundFrames(context).octaves.filter(({ centreHz }) => centreHz > 500);
  if (octaves.length === 0) return missing("band");
  const parity = parities(pattern);
  const found = octaves.flatMap(({ power, centreHz }) => {
    const values = pattern.strokes.map((stroke) => clickLevel(power, stroke));
    const difference = alternation(values, parity);
    return difference ? [{ ...difference, centreHz }] : [];
  });
  if (found.length === 0) return missing("short");
  const best = found.reduce((a, b) => (b.keptDb > a.keptDb ? b : a));
  return measured(best.keptDb, (eventTrust(context) * best.strokes) / (best.strokes + 6), {
    strokes: best.strokes,
    p: Math.min(1, best.p * found.length),
    hz: best.centreHz,
  });
}
