import { mean, variance } from "../../foundation/statistics.js";
import { turnClock, type TurnClock } from "../../signal/angular.js";
import type { ListeningContext } from "../context.js";
import { riseSeries } from "./rises.js";

/** Tumbling speeds of a wash, turns per second (33 to 72 rpm). */
const TUMBLE_HZ = [0.55, 1.2] as const;
const STEP = 8;
/** Autocorrelation over its standard error from which a rhythm is believed. */
const LEAST_Z = 6;

function autocorrelation(values: Float64Array, lag: number): number {
  let sum = 0;
  for (let i = 0; i + lag < values.length; i++) sum += values[i]! * values[i + lag]!;
  return sum / (values.length - lag);
}

/**
 * Rate at which blows repeat in a tumble when no speed was found: the strongest autocorrelation of the
 * onsets of both bands between 0.83 and 1.8 s, which must come again after twice that time.
 * Null when there is none. A steady rate is assumed; it is not more than about 2 % accurate.
 */
export function tumbleClock(context: ListeningContext): TurnClock | null {
  const low = riseSeries(context, "low-blow");
  const high = riseSeries(context, "contact");
  const rateHz = low.rateHz / STEP;
  const count = Math.floor(Math.min(low.values.length, high.values.length) / STEP) - 1;
  if (count / rateHz < 8) return null;
  const onset = Float64Array.from({ length: count }, (_, i) => {
    let sum = 0;
    for (let j = i * STEP; j < (i + 1) * STEP; j++) {
      sum += Math.min(12, low.values[j]!) + Math.min(12, high.values[j] ?? 0);
    }
    return sum;
  });
  const centre = mean(onset);
  const power = variance(onset);
  const centred = onset.map((v) => v - centre);
  const z = (lag: number): number =>
    (autocorrelation(centred, lag) / power) * Math.sqrt(count - lag);
  let best = { lag: 0, z: 0 };
  for (let lag = Math.ceil(rateHz / TUMBLE_HZ[1]); lag <= rateHz / TUMBLE_HZ[0]; lag++) {
    const here = z(lag);
    if (here > best.z) best = { lag, z: here };
  }
  if (best.z < LEAST_Z || z(2 * best.lag) < LEAST_Z / 2) return null;
  const drumHz = rateHz / best.lag;
  const seconds = context.recording.durationSeconds;
  return turnClock(new Float64Array(Math.ceil(seconds * 100) + 1).fill(drumHz), 100);
}
