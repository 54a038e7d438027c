import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { studentTail } from "../event/tails.js";
import { mean, variance } from "../../foundation/statistics.js";
import { blockPower } from "../../signal/spectrum.js";
import type { StrokePattern } from "./stroke-pattern.js";

const WINDOW = 1024;
const HOP = 256;
/** Spectra on a logarithmic axis: 24 steps per octave over 150-4800 Hz. */
const STEPS_PER_OCTAVE = 24;
const LOWEST_HZ = 150;
const STEPS = 5 * STEPS_PER_OCTAVE;
/** Frames between the two spectra whose shift is read: 48 ms. */
const LAG = 3;
const WIDEST_SHIFT = 6;
const MOST_SECONDS = 16;

// Level over a smooth background on the logarithmic axis, so that only tones are left.
function toneProfile(power: Float64Array, binHz: number): Float64Array {
  const level = new Float64Array(STEPS);
  for (let s = 0; s < STEPS; s++) {
    const k = (LOWEST_HZ * 2 ** (s / STEPS_PER_OCTAVE)) / binHz;
    const low = Math.floor(k);
    const t = k - low;
    level[s] = Math.log((1 - t) * power[low]! + t * power[low + 1]! + 1e-12);
  }
  const out = new Float64Array(STEPS);
  for (let s = 0; s < STEPS; s++) {
    const from = Math.max(0, s - 12);
    const to = Math.min(STEPS, s + 13);
    let sum = 0;
    for (let j = from; j < to; j++) sum += level[j]!;
    out[s] = Math.max(0, level[s]! - sum / (to - from) - 0.7);
  }
  return out;
}

// Correlation of two profiles for rising shifts less that for falling ones: positive when pitch rises.
function pitchMove(earlier: Float64Array, later: Float64Array): number {
  let move = 0;
  let total = 1e-9;
  for (let shift = 1; shift <= WIDEST_SHIFT; shift++) {
    let up = 0;
    let down = 0;
    for (let s = 0; s + shift < STEPS; s++) {
      up += earlier[s]! * later[s + shift]!;
      down += earlier[s + shift]! * later[s]!;
    }
    move += up - down;
    total += up + down;
  }
  return move / total;
}

function pitchMoves(
  context: ListeningContext,
  startSeconds: number,
  endSeconds: number,
): Float64Array {
  const first = Math.max(0, Math.round(startSeconds * context.soundRateHz));
  const last = Math.min(context.sound.length, Math.round(endSeconds * context.soundRateHz));
  const profiles: Float64Array[] = [];
  for (let at = first; at + WINDOW <= last; at += HOP) {
    const power = blockPower(context.sound, at, WINDOW, WINDOW);
    profiles.push(toneProfile(power, context.soundRateHz / WINDOW));
  }
  const moves = new Float64Array(Math.max(0, profiles.length - LAG));
  for (let i = 0; i < moves.length; i++) moves[i] = pitchMove(profiles[i]!, profiles[i + LAG]!);
  return moves;
}

/** Mean pitch movement of a stroke's first third less that of its last third. */
function riseAndFall(moves: Float64Array, from: number, length: number): number | null {
  const third = length / 3;
  let rise = 0;
  let fall = 0;
  let count = 0;
  for (let j = 0; j < third; j++) {
    const early = Math.round(from + j);
    const late = Math.round(from + length - 1 - j);
    if (early < 0 || late >= moves.length) continue;
    rise += moves[early]!;
    fall += moves[late]!;
    count++;
  }
  return count < 2 ? null : (rise - fall) / count;
}

/**
 * Do tones rise at the start of each stroke and fall at its end? p-value of Student's one-sided test
 * over the strokes that the rise of pitch in a stroke's first third less that in its last is above 0.
 */
export function strokeChirp(context: ListeningContext, pattern: StrokePattern): Measurement {
  if (pattern.kind !== "agitation") return missing("no-events");
  const origin = Math.max(0, pattern.strokes[0]!.startSeconds - 0.1);
  const strokes = pattern.strokes.filter((s) => s.endSeconds < origin + MOST_SECONDS);
  if (strokes.length < 6) return missing("short");
  const moves = pitchMoves(context, origin, strokes[strokes.length - 1]!.endSeconds + 0.3);
  const frameRateHz = context.soundRateHz / HOP;
  const half = (WINDOW + LAG * HOP) / 2 / context.soundRateHz;
  const scores = strokes
    .map(({ startSeconds, endSeconds }) =>
      riseAndFall(
        moves,
        (startSeconds - origin - half) * frameRateHz,
        (endSeconds - startSeconds) * frameRateHz,
      ),
    )
    .filter((score): score is number => score !== null);
  if (scores.length < 6) return missing("short");
  const n = scores.length;
  const error = Math.sqrt(variance(scores) / (n - 1) + 1e-12);
  const p = Math.max(1e-12, studentTail(mean(scores) / error, n - 1));
  // A clack at each start changes the spectrum as well, so this sign never stands alone.
  return measured(p, (0.6 * n) / (n + 4), { strokes: n });
}
