import type { ListeningContext } from "../context.js";

/** Strength from which a mains comb counts as heard rather than chance, dB. */
const HEARD_DB = 4;

/**
 * How surely something that runs from the mains is heard, 0 to 1, from the comb of the speed estimate:
 * half at 4 dB over its surroundings, rising over a few decibels. 0 when no comb was heard.
 */
export function mainsPresence(context: ListeningContext): number {
  const { lineCombDb } = context.speed;
  return lineCombDb === null ? 0 : 1 / (1 + Math.exp(-(lineCombDb - HEARD_DB) / 1.5));
}

/** Share of the clip in which a drum speed of 5 rpm or more is known, 0 to 1. */
export function turningShare(context: ListeningContext): number {
  const { track, movement } = context.speed;
  if (track.length === 0 || movement === "still") return 0;
  return track.filter(({ drumRpm }) => drumRpm !== null && drumRpm >= 5).length / track.length;
}
