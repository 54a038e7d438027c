import { blockPower } from "../../signal/spectrum.js";
import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { localLevel } from "./local-level.js";
import { speedSpan, type Shafts } from "./shafts.js";

const LOW_HZ = 7000;
const HIGH_HZ = 20_000;
/** The band must reach this far for the search to mean anything. */
const LEAST_TOP_HZ = 8500;
const LEAST_SPAN = 0.05;
const BLOCK = 16_384;
const MOST_BLOCKS = 24;
/** A carrier is there in nearly all blocks. */
const LEAST_SHARE = 0.7;
const STANDS_OUT = 5;

/**
 * Height of the strongest steady tone above 7 kHz over its surroundings, dB, while the drum's speed moves
 * by at least 5 %. Read from up to 24 blocks of the recording at its own rate; a tone that moves with the
 * speed leaves its bin and does not count. 0 when no bin stands out in seven of ten blocks.
 */
export function carrier(context: ListeningContext, shafts: Shafts | null): Measurement {
  const { samples, sampleRateHz, bandHz } = context.recording;
  const topHz = Math.min(HIGH_HZ, bandHz[1], 0.48 * sampleRateHz);
  if (topHz < LEAST_TOP_HZ) return missing("band");
  if (shafts === null || speedSpan(shafts) < LEAST_SPAN) return missing("speed");
  const count = Math.min(MOST_BLOCKS, Math.floor(samples.length / BLOCK));
  if (count < 6) return missing("short");
  const binHz = sampleRateHz / BLOCK;
  const low = Math.ceil(LOW_HZ / binHz);
  const high = Math.floor(topHz / binHz);
  const ratios = new Float64Array(high + 1);
  const present = new Float64Array(high + 1);
  const hop = (samples.length - BLOCK) / Math.max(1, count - 1);
  for (let b = 0; b < count; b++) {
    const power = blockPower(samples, Math.round(b * hop), BLOCK, BLOCK);
    const level = localLevel(power);
    for (let k = low; k <= high; k++) {
      const ratio = power[k]! / level[k]!;
      ratios[k]! += ratio / count;
      if (ratio > STANDS_OUT) present[k]! += 1 / count;
    }
  }
  let best = 0;
  for (let k = low; k <= high; k++) {
    if (present[k]! >= LEAST_SHARE && ratios[k]! > (ratios[best] ?? 0)) best = k;
  }
  if (best === 0) return measured(0, 0.8);
  return measured(10 * Math.log10(ratios[best]!), 1, { hz: best * binHz });
}
