import { RACE_OFFSETS } from "../../machine/bearing-families.js";
import { besides, findComb } from "./calibrate.js";
import type { SoundAxis } from "./drum-axes.js";
import { blankedBins, harmonicLines, withoutBlanked } from "./known-lines.js";

/** What is left of the motor's place to search after it was measured. */
const SEARCH = 0.003;

/** Tones beside the motor's multiples, as its bearing's races give. */
export interface MotorRaces {
  /** p-value against the clip's own background, multiplied by the bearings tried. */
  readonly p: number;
  /** Share of a motor turn by which the tones stand beside whole multiples. */
  readonly offset: number;
  readonly place: number;
}

/**
 * Looks for tones at n - offset and n + offset per motor turn together: the outer and inner rate of a
 * bearing with their sidebands one shaft turn away. The motor's own multiples are left out, so that a
 * whining motor in order has none. Null where the motor's place was not measured.
 */
export function motorRaces(axis: SoundAxis): MotorRaces | null {
  const { motor, unblanked, bin, resolution, top } = axis;
  if (motor === null || !motor.measured) return null;
  const own = harmonicLines("motor", motor.place, top, (place) => resolution + place * motor.error);
  const evidence = withoutBlanked(unblanked, blankedBins(own, unblanked.length, bin));
  let best: MotorRaces | null = null;
  for (const offset of RACE_OFFSETS) {
    // Too close to the multiples to be told from them.
    if (offset * motor.place < 1.5 * resolution) continue;
    const found = findComb({ evidence, bin, resolution }, motor.place, SEARCH, besides(offset));
    if (found === null) continue;
    const p = Math.min(1, found.p * RACE_OFFSETS.length);
    if (best === null || p < best.p) best = { p, offset, place: found.at };
  }
  return best;
}
