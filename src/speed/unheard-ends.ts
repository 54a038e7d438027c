import { fitLine, mean } from "../foundation/statistics.js";
import { FRAME_SECONDS } from "./frame-times.js";

/** How much of what is heard beside an unheard end tells how the drum goes on. */
const BESIDE_SECONDS = 3;
/** A smaller change within that time is no ramp. */
const MOST_DRIFT = 0.007;

type Track = readonly (number | null)[];

/** Speeds over the unheard frames after the last heard one, should the drum go on as it does there. */
function goingOn(track: Track, topHz: number): number[] {
  const last = track.findLastIndex((hz) => hz !== null);
  const beside = Math.round(BESIDE_SECONDS / FRAME_SECONDS);
  const places: number[] = [];
  for (let i = last; i >= 0 && places.length < beside; i--) {
    if (track[i] !== null) places.push(i);
  }
  if (places.length < beside) return [];
  const speeds = places.map((i) => track[i]!);
  const fitted = fitLine(places, speeds).slope;
  // From the middle of what was heard: its very last frame is the least certain.
  const [middle, level] = [mean(places), mean(speeds)];
  const slope = Math.abs(fitted * beside) < MOST_DRIFT * level ? 0 : fitted;
  return Array.from({ length: track.length - 1 - last }, (_, i) =>
    Math.max(0, Math.min(topHz, level + slope * (last + 1 + i - middle))),
  );
}

/** What may be meant by the speed of a clip if the drum goes on where nothing is heard, Hz. */
export interface MeantBeyond {
  /** Mean over the time in which the drum turns, its unheard ends read on along straight lines. */
  readonly mean: number;
  /** Where unheard ends lead to that are long enough to hold the clip's one speed. */
  readonly ends: readonly number[];
}

/**
 * A ramp that is heard for a part of the clip has its mean, and the speed at which it is held in the end,
 * perhaps where nothing is heard. `track` is drum speed by frame in Hz, null where unheard; `longest` is how
 * many frames the longest heard stretch of about one speed has; no drum goes beyond `topHz`. Null where the
 * clip is heard to both ends.
 */
export function meantBeyond(track: Track, longest: number, topHz: number): MeantBeyond | null {
  const after = goingOn(track, topHz);
  const before = goingOn([...track].reverse(), topHz);
  const unheard = [after, before].filter((end) => end.length > 0);
  if (unheard.length === 0) return null;
  const turns = (hz: number | null): hz is number => hz !== null && hz > 0;
  return {
    mean: mean([track, after, before].flatMap((part) => part.filter(turns))),
    ends: unheard.flatMap((end) => (end.length >= longest ? end.slice(-1).filter(turns) : [])),
  };
}
