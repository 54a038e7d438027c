import type { Emissions } from "./emissions.js";
import { FRAME_SECONDS } from "./frame-times.js";
import { LOG_STEP } from "./log-grid.js";

/** The best smooth course of one frequency through time. */
export interface Path {
  /** Cell of the grid per frame. */
  readonly cells: Int32Array;
  /** Index of the rate of change per frame. */
  readonly chirps: Int32Array;
  /** Score per frame along the path, without the cost of moving. */
  readonly scores: Float64Array;
  /** Sum with the cost of moving. */
  readonly total: number;
}

const STEP_COST = 0.35;
const CHIRP_COST = 1.2;

// How far a path moves between two frames when it leaves with one chirp and arrives with another.
function moves(chirps: readonly number[]): Int32Array {
  const n = chirps.length;
  const out = new Int32Array(n * n);
  for (let from = 0; from < n; from++) {
    for (let to = 0; to < n; to++) {
      out[from * n + to] = Math.round(
        ((chirps[from]! + chirps[to]!) * FRAME_SECONDS) / 2 / LOG_STEP,
      );
    }
  }
  return out;
}

// Best of a cell and its two neighbours (these at a cost), for one rate of change; -1e9 beyond the ends.
function widen(
  score: Float64Array,
  base: number,
  count: number,
  best: Float64Array,
  at: Int32Array,
): void {
  for (let i = 0; i < count; i++) {
    let value = score[base + i]!;
    let place = base + i;
    const left = i > 0 ? score[base + i - 1]! - STEP_COST : -1e9;
    if (left > value) {
      value = left;
      place = base + i - 1;
    }
    const right = i + 1 < count ? score[base + i + 1]! - STEP_COST : -1e9;
    if (right > value) {
      value = right;
      place = base + i + 1;
    }
    best[base + i] = value;
    at[base + i] = place;
  }
}

/** Takes into `next` what comes from one rate of change, where it beats what is there. */
function carry(
  from: { readonly best: Float64Array; readonly at: Int32Array; readonly base: number },
  to: { readonly next: Float64Array; readonly origin: Int32Array; readonly base: number },
  count: number,
  move: number,
  cost: number,
): void {
  const low = Math.max(0, move);
  const high = Math.min(count, count + move);
  for (let i = low; i < high; i++) {
    const value = from.best[from.base + i - move]! - cost;
    if (value > to.next[to.base + i]!) {
      to.next[to.base + i] = value;
      to.origin[to.base + i] = from.at[from.base + i - move]!;
    }
  }
}

/**
 * Viterbi's best path over cells of ln frequency and rates of change: position follows the rate within
 * one cell, the rate moves by one step at most, both at a cost.
 */
export function bestPath(emissions: Emissions, chirps: readonly number[]): Path {
  const { frameCount, chirpCount, values } = emissions;
  const count = emissions.grid.count;
  const states = chirpCount * count;
  const move = moves(chirps);
  const origins = new Int32Array(frameCount * states);
  let score = Float64Array.from(values.subarray(0, states));
  let next = new Float64Array(states);
  const best = new Float64Array(states);
  const at = new Int32Array(states);
  for (let t = 1; t < frameCount; t++) {
    for (let c = 0; c < chirpCount; c++) widen(score, c * count, count, best, at);
    next.fill(-1e9);
    const origin = origins.subarray(t * states, (t + 1) * states);
    for (let c = 0; c < chirpCount; c++) {
      const to = { next, origin, base: c * count };
      for (let from = Math.max(0, c - 1); from <= Math.min(chirpCount - 1, c + 1); from++) {
        const cost = from === c ? 0 : CHIRP_COST;
        carry({ best, at, base: from * count }, to, count, move[from * chirpCount + c]!, cost);
      }
    }
    for (let s = 0; s < states; s++) next[s]! += values[t * states + s]!;
    [score, next] = [next, score];
  }
  return traceBack(emissions, score, origins);
}

function traceBack(emissions: Emissions, score: Float64Array, from: Int32Array): Path {
  const { frameCount, chirpCount, values } = emissions;
  const cellCount = emissions.grid.count;
  const states = chirpCount * cellCount;
  let at = 0;
  for (let s = 1; s < states; s++) if (score[s]! > score[at]!) at = s;
  const total = score[at]!;
  const cells = new Int32Array(frameCount);
  const chirps = new Int32Array(frameCount);
  const scores = new Float64Array(frameCount);
  for (let t = frameCount - 1; t >= 0; t--) {
    cells[t] = at % cellCount;
    chirps[t] = Math.floor(at / cellCount);
    scores[t] = values[t * states + at]!;
    at = from[t * states + at]!;
  }
  return { cells, chirps, scores, total };
}
