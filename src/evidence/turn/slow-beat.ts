import type { Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { logLevel } from "./order-test.js";
import { CELLS, type TurnBlock } from "./turn-grid.js";

/** Beats are looked for between these rates, Hz. */
const BEAT_HZ = [0.1, 2] as const;
const LEAST_SECONDS = 8;

interface Vector {
  readonly re: number;
  readonly im: number;
}

/** The once-per-turn part of each turn of a block as a vector. */
function turnVectors(power: Float64Array, block: TurnBlock): Vector[] {
  const level = logLevel([power], block);
  return Array.from({ length: block.count }, (_, t) => {
    let [re, im] = [0, 0];
    for (let c = 0; c < CELLS; c++) {
      re += (2 / CELLS) * level[t * CELLS + c]! * Math.cos((2 * Math.PI * c) / CELLS);
      im += (2 / CELLS) * level[t * CELLS + c]! * Math.sin((2 * Math.PI * c) / CELLS);
    }
    return { re, im };
  });
}

/**
 * Beating of the once-per-turn part: standard deviation over mean of its size, the turn-to-turn noise
 * taken off, for changes slower than 2 Hz. 0 when it stays the same. Missing under 8 s of turning.
 */
export function slowBeat(
  power: Float64Array,
  blocks: readonly TurnBlock[],
  quality: number,
): Measurement {
  const seconds = blocks.reduce((sum, { count, hz }) => sum + count / hz, 0);
  if (seconds < LEAST_SECONDS) return missing("short");
  const sizes: number[] = [];
  let noise = 0;
  let pairs = 0;
  for (const block of blocks) {
    const vectors = turnVectors(power, block);
    // As many turns as keep the beat's highest rate, at least three.
    const width = Math.max(3, Math.round(block.hz / (2 * BEAT_HZ[1])));
    for (let t = 0; t + width <= vectors.length; t++) {
      let [re, im] = [0, 0];
      for (let j = t; j < t + width; j++) {
        re += vectors[j]!.re / width;
        im += vectors[j]!.im / width;
      }
      sizes.push(Math.hypot(re, im));
    }
    for (let t = 1; t < vectors.length; t++) {
      const a = vectors[t - 1]!;
      const b = vectors[t]!;
      noise += ((a.re - b.re) ** 2 + (a.im - b.im) ** 2) / (4 * width);
      pairs++;
    }
  }
  if (sizes.length < 8 || pairs === 0) return missing("short");
  const mean = sizes.reduce((sum, v) => sum + v, 0) / sizes.length;
  const square = sizes.reduce((sum, v) => sum + (v - mean) ** 2, 0) / sizes.length;
  return measured(Math.sqrt(Math.max(0, square - noise / pairs)) / mean, 0.8 * quality);
}
