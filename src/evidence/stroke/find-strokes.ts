import type { ListeningContext } from "../context.js";
import { findAgitation } from "./agitation.js";
import { findDriveCycles } from "./drive-cycles.js";
import { loudnessTrack, TRACK_RATE_HZ } from "./loudness-track.js";
import type { StrokePattern } from "./stroke-pattern.js";

const SHORTEST_SECONDS = 4;

const known = new WeakMap<ListeningContext, { readonly pattern: StrokePattern | null }>();

/**
 * Finds the on and off of the drive in the clip's loudness: strokes of an agitator (0.2-2.5 s apart)
 * or the longer cycles of a tumbling drum or pulsed motor. Null when the sound does not stand on two
 * levels in turn, which a smooth modulation by the drum's turning does not either. Worked out once per
 * context.
 */
export function findStrokes(context: ListeningContext): StrokePattern | null {
  const found = known.get(context);
  if (found) return found.pattern;
  const track = loudnessTrack(context);
  const long = track.levelDb.length >= SHORTEST_SECONDS * TRACK_RATE_HZ;
  const pattern = long ? (findAgitation(context, track) ?? findDriveCycles(context, track)) : null;
  known.set(context, { pattern });
  return pattern;
}
