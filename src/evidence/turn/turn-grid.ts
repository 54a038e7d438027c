import { turnsAt, type TurnClock } from "../../signal/angular.js";
import { usableShare } from "../character/sound-frames.js";
import type { Series } from "../character/level-series.js";
import type { ListeningContext } from "../context.js";

/** Cells that a turn is cut into; a power of two, so that whole orders fall on Fourier bins. */
export const CELLS = 32;
/** Slowest drum that counts as turning, turns per second. */
const SLOWEST_HZ = 0.35;

/** When each turn of the drum happens, and whether it may be used. */
export interface Turns {
  readonly clock: TurnClock;
  /** Shape [turns + 1]: time at which each turn begins. */
  readonly startSeconds: Float64Array;
  /** Shape [turns]: 1 where the drum turns throughout and the sound is usable. */
  readonly valid: Uint8Array;
}

/** Speed of one turn, turns per minute. */
export const turnRpm = ({ startSeconds }: Turns, turn: number): number =>
  60 / (startSeconds[turn + 1]! - startSeconds[turn]!);

/** Cuts a clip into turns. A turn in which the clock pauses is not valid. */
export function turnsOf(context: ListeningContext, clock: TurnClock): Turns {
  const { turns, sampleRateHz } = clock;
  const total = Math.max(0, Math.floor((turns[turns.length - 1] ?? 0) - (turns[0] ?? 0)));
  const startSeconds = new Float64Array(total + 1);
  const share = usableShare(context);
  const valid = new Uint8Array(total);
  let i = 0;
  for (let turn = 0; turn <= total; turn++) {
    const wanted = turns[0]! + turn;
    let slowest = Infinity;
    while (i < turns.length - 2 && turns[i + 1]! <= wanted) {
      i++;
      slowest = Math.min(slowest, (turns[i]! - turns[i - 1]!) * sampleRateHz);
    }
    const step = turns[i + 1]! - turns[i]!;
    startSeconds[turn] = (i + (step > 0 ? (wanted - turns[i]!) / step : 0)) / sampleRateHz;
    if (turn === 0) continue;
    const [start, end] = [startSeconds[turn - 1]!, startSeconds[turn]!];
    const turning = end - start < 1 / SLOWEST_HZ && slowest > SLOWEST_HZ / 2;
    valid[turn - 1] = turning && share(start, end) > 0.9 ? 1 : 0;
  }
  return { clock, startSeconds, valid };
}

/**
 * Lays a series over the drum's angle: shape [turns * CELLS], the mean over each 32nd of a turn, or the
 * nearest sample where a cell is shorter than a sample.
 */
export function cellMeans({ clock, valid }: Turns, { values, rateHz }: Series): Float64Array {
  const sums = new Float64Array(valid.length * CELLS);
  const counts = new Uint32Array(sums.length);
  const first = clock.turns[0] ?? 0;
  for (let i = 0; i < values.length; i++) {
    const cell = Math.floor((turnsAt(clock, (i + 0.5) / rateHz) - first) * CELLS);
    if (cell < 0 || cell >= sums.length) continue;
    sums[cell]! += values[i]!;
    counts[cell]!++;
  }
  for (let c = 0; c < sums.length; c++) {
    sums[c] = counts[c]! > 0 ? sums[c]! / counts[c]! : (sums[c - 1] ?? values[0] ?? 0);
  }
  return sums;
}

/** Neighbouring valid turns that are looked at together. */
export interface TurnBlock {
  readonly first: number;
  readonly count: number;
  /** Mean speed, turns per second. */
  readonly hz: number;
}

/**
 * Blocks of `size` valid turns in a row, side by side; what is left over at a run's end makes a block of
 * its own when it holds at least `least` turns. Short blocks keep an error of the speed from turning the
 * phase away: 0.2 % off is 0.04 of a turn after 20 turns.
 */
export function turnBlocks(
  { startSeconds, valid }: Turns,
  size: number,
  least: number,
): TurnBlock[] {
  const blocks: TurnBlock[] = [];
  let first = 0;
  for (let turn = 0; turn <= valid.length; turn++) {
    const runs = turn < valid.length && valid[turn] === 1;
    const count = turn - first;
    if (count === size || (!runs && count >= least)) {
      blocks.push({ first, count, hz: count / (startSeconds[turn]! - startSeconds[first]!) });
      first = turn;
    }
    if (!runs) first = turn + 1;
  }
  return blocks;
}
