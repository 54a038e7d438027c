import type { Interval, Recording } from "../recording/recording.js";
import { fineBandsOf, type FineLevels } from "./fine-bands.js";

/** A recording in fine bands, block by block, so that blocks can be drawn anew. */
export interface Portrait {
  readonly blocks: readonly FineLevels[];
}

/** Long against a turn of a drum: two turns of the slowest tumbling, five and more of any spin. */
export const BLOCK_SECONDS = 3;
export const HOP_SECONDS = 1.5;
const LEAST_USABLE = 0.8;

const usableSeconds = (usable: readonly Interval[], from: number, to: number): number =>
  usable.reduce(
    (sum, { startSeconds, endSeconds }) =>
      sum + Math.max(0, Math.min(to, endSeconds) - Math.max(from, startSeconds)),
    0,
  );

/**
 * The narrow peaks and gaps of a recording's spectrum, in blocks of 3 s, half overlapping. Blocks with more
 * than a fifth of speech, silence or handling are left out.
 *
 * @param sound the recording at `soundRateHz`, shape [n]
 */
export function portraitOf(
  sound: Float64Array,
  soundRateHz: number,
  { bandHz, usable }: Pick<Recording, "bandHz" | "usable">,
): Portrait {
  const fineBands = fineBandsOf(sound, soundRateHz, bandHz);
  const seconds = sound.length / soundRateHz;
  const blocks: FineLevels[] = [];
  for (let from = 0; from + BLOCK_SECONDS <= seconds; from += HOP_SECONDS) {
    const to = from + BLOCK_SECONDS;
    if (usableSeconds(usable, from, to) < LEAST_USABLE * BLOCK_SECONDS) continue;
    blocks.push(fineBands(from, to));
  }
  return { blocks };
}
