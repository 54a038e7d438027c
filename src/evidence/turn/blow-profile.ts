import { clamp, median } from "../../foundation/statistics.js";
import { CELLS, type TurnBlock } from "./turn-grid.js";

const TO_DB = 10 / Math.LN10;

/** The turn's level in one block, averaged over every second turn. */
interface HalfProfiles {
  /** Shape [CELLS] each: mean level, dB; from odd and from even turns. */
  readonly odd: Float64Array;
  readonly even: Float64Array;
}

function halfProfiles(power: Float64Array, { first, count }: TurnBlock): HalfProfiles {
  const odd = new Float64Array(CELLS);
  const even = new Float64Array(CELLS);
  const oddCount = count >> 1;
  for (let t = 0; t < count; t++) {
    const side = t % 2 === 1 ? odd : even;
    const share = TO_DB / (t % 2 === 1 ? oddCount : count - oddCount);
    for (let c = 0; c < CELLS; c++) {
      side[c]! += share * Math.log(power[(first + t) * CELLS + c]! + 1e-30);
    }
  }
  return { odd, even };
}

const around = (profile: Float64Array, cell: number): number =>
  (profile[(cell + CELLS - 1) % CELLS]! + profile[cell]! + profile[(cell + 1) % CELLS]!) / 3;

function loudestCell(profile: Float64Array): number {
  let best = 0;
  for (let c = 1; c < CELLS; c++) if (around(profile, c) > around(profile, best)) best = c;
  return best;
}

/** The blow of one block, found in one half of the turns and measured in the other. */
export interface Blow {
  /** Level at the blow over the middle level of the turn, dB; about 0 when there is none. */
  readonly db: number;
  /** Shape [CELLS]: the turn's level, dB, turned so that the blow stands at cell 0. */
  readonly profile: Float64Array;
  /** Cell of the blow in the block's own turns. */
  readonly cell: number;
  readonly block: TurnBlock;
}

/**
 * Blow of a block of a band's power over the angle (`cellMeans`): every second turn says where it is, the turns between say how high. Means of dB over
 * turns keep one slammed door from passing for a blow in every turn.
 */
export function blowOf(power: Float64Array, block: TurnBlock): Blow {
  const { odd, even } = halfProfiles(power, block);
  const profile = new Float64Array(CELLS);
  let db = 0;
  for (const [guide, judge] of [
    [odd, even],
    [even, odd],
  ] as const) {
    const cell = loudestCell(guide);
    db += 0.5 * (around(judge, cell) - median(judge));
    for (let c = 0; c < CELLS; c++) profile[c]! += 0.5 * judge[(cell + c) % CELLS]!;
  }
  const both = odd.map((value, c) => value + even[c]!);
  return { db, profile, cell: loudestCell(both), block };
}

/** Mean of the blows' profiles, each from its own mean. Shape [CELLS], dB. */
export function meanProfile(blows: readonly Blow[]): Float64Array {
  const profile = new Float64Array(CELLS);
  for (const blow of blows) {
    const centre = blow.profile.reduce((sum, v) => sum + v, 0) / CELLS;
    for (let c = 0; c < CELLS; c++) profile[c]! += (blow.profile[c]! - centre) / blows.length;
  }
  return profile;
}

/** Peak over RMS of the amplitude's alternating part: 1.4 for a smooth swell, 3 and more for a blow. */
export function crestOf(profileDb: Float64Array): number {
  const amplitude = profileDb.map((db) => 10 ** (db / 20));
  const centre = amplitude.reduce((sum, v) => sum + v, 0) / CELLS;
  const square = amplitude.reduce((sum, v) => sum + (v - centre) ** 2, 0) / CELLS;
  return (Math.max(...amplitude) - centre) / Math.sqrt(square);
}

const SCRAPE_WIDTHS = [5, 7, 11] as const;

/**
 * How far a part of the turn stands over the rest throughout, dB: the quietest cell of a window of 5, 7
 * or 11 cells round the loudest place, over the mean of the cells outside it, the widest window that
 * serves best. A blow of one cell gives about 0.
 */
export function gatingOf(profileDb: Float64Array): number {
  let best = -Infinity;
  for (const width of SCRAPE_WIDTHS) {
    const half = (width - 1) / 2;
    for (let shift = -half; shift <= half; shift++) {
      let quietest = Infinity;
      let outside = 0;
      for (let c = 0; c < CELLS; c++) {
        const distance = Math.min((c - shift + CELLS) % CELLS, (shift - c + CELLS) % CELLS);
        if (distance <= half) quietest = Math.min(quietest, profileDb[c]!);
        else if (distance > half + 1) outside += profileDb[c]!;
      }
      best = Math.max(best, quietest - outside / (CELLS - width - 2));
    }
  }
  return best;
}

/** Rises of single turns at the blow's place, dB over that turn's middle level. */
export function turnRises(power: Float64Array, { block, cell }: Blow): number[] {
  return Array.from({ length: block.count }, (_, t) => {
    const offset = (block.first + t) * CELLS;
    const turn = power.subarray(offset, offset + CELLS);
    let sum = 0;
    for (let c = -1; c <= 1; c++) {
      const at = clamp(offset + cell + c, 0, power.length - 1);
      sum += power[at]! / 3;
    }
    return TO_DB * Math.log((sum + 1e-30) / (median(turn) + 1e-30));
  });
}

/** Circular spread of the loudest cells of a block's turns: 1 - |mean of e^(iθ)|. */
export function angleSpread(power: Float64Array, { block }: Blow): number {
  let [re, im] = [0, 0];
  for (let t = 0; t < block.count; t++) {
    const offset = (block.first + t) * CELLS;
    const cell = loudestCell(power.subarray(offset, offset + CELLS));
    re += Math.cos((2 * Math.PI * cell) / CELLS);
    im += Math.sin((2 * Math.PI * cell) / CELLS);
  }
  return 1 - Math.hypot(re, im) / block.count;
}
