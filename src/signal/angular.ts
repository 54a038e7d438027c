import { cubicAt, cubicWeights } from "./resample.js";

/** Turns of a shaft since time 0, as a function of time: evenly sampled and rising. */
export interface TurnClock {
  /** Shape [n]; turns at time i / sampleRateHz; never falls. */
  readonly turns: Float64Array;
  readonly sampleRateHz: number;
}

/** Turns at a time, by linear interpolation, held at the ends. */
export function turnsAt(clock: TurnClock, seconds: number): number {
  const position = seconds * clock.sampleRateHz;
  const last = clock.turns.length - 1;
  const i = Math.min(Math.max(0, last - 1), Math.max(0, Math.floor(position)));
  const t = Math.min(1, Math.max(0, position - i));
  return clock.turns[i]! + t * (clock.turns[Math.min(i + 1, last)]! - clock.turns[i]!);
}

/** Integrates a speed in turns per second (trapezoid rule) into a clock. Shape as the speed's. */
export function turnClock(speedHz: Float64Array, sampleRateHz: number): TurnClock {
  const turns = new Float64Array(speedHz.length);
  for (let i = 1; i < turns.length; i++) {
    turns[i] = turns[i - 1]! + (speedHz[i - 1]! + speedHz[i]!) / (2 * sampleRateHz);
  }
  return { turns, sampleRateHz };
}

/** Places, in samples of a signal, of even shaft angle. Stretches where the clock stands still are passed over. */
function anglePlaces(sampleRateHz: number, clock: TurnClock, samplesPerTurn: number): Float64Array {
  const first = clock.turns[0] ?? 0;
  const total = (clock.turns[clock.turns.length - 1] ?? 0) - first;
  const out = new Float64Array(Math.max(0, Math.floor(total * samplesPerTurn)));
  let i = 0;
  for (let m = 0; m < out.length; m++) {
    const wanted = first + m / samplesPerTurn;
    while (i < clock.turns.length - 2 && clock.turns[i + 1]! <= wanted) i++;
    const step = clock.turns[i + 1]! - clock.turns[i]!;
    const seconds = (i + (step > 0 ? (wanted - clock.turns[i]!) / step : 0)) / clock.sampleRateHz;
    out[m] = seconds * sampleRateHz;
  }
  return out;
}

/**
 * Resamples signals of one rate from even time to even shaft angle; the places are worked out once for all.
 *
 * The signals must already be free of content above half of (samplesPerTurn * slowest speed); cubic
 * interpolation between samples. Shape [rows][floor(total turns * samplesPerTurn)]. Stretches where the clock
 * stands still are passed over.
 */
export function rowsToAngle(
  rows: readonly Float64Array[],
  sampleRateHz: number,
  clock: TurnClock,
  samplesPerTurn: number,
): Float64Array[] {
  const places = anglePlaces(sampleRateHz, clock, samplesPerTurn);
  const weights = cubicWeights(places);
  return rows.map((row) => weightedAt(row, places, weights));
}

/** A row at the places, by the weights of its samples round each; at its ends as `cubicAt` has it. */
function weightedAt(row: Float64Array, places: Float64Array, weights: Float64Array): Float64Array {
  const out = new Float64Array(places.length);
  for (let m = 0; m < out.length; m++) {
    const i = Math.floor(places[m]!);
    const w = 4 * m;
    out[m] =
      i >= 1 && i + 2 < row.length
        ? weights[w]! * row[i - 1]! +
          weights[w + 1]! * row[i]! +
          weights[w + 2]! * row[i + 1]! +
          weights[w + 3]! * row[i + 2]!
        : cubicAt(row, places[m]!);
  }
  return out;
}

/** One signal resampled as `rowsToAngle` does: weights that are used once need not be kept. */
export const toAngle = (
  samples: Float64Array,
  sampleRateHz: number,
  clock: TurnClock,
  samplesPerTurn: number,
): Float64Array =>
  anglePlaces(sampleRateHz, clock, samplesPerTurn).map((place) => cubicAt(samples, place));
