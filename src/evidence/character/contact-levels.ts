import type { BandName, ListeningContext } from "../context.js";
import { thinned, type Series } from "./level-series.js";

/** Rate at which the levels of several octaves are laid side by side. */
export const LEVEL_RATE_HZ = 2000;

const OCTAVES = [
  ["octave-500", 1000],
  ["octave-1k", 2000],
  ["octave-2k", 4000],
  ["octave-4k", 6000],
] as const satisfies readonly (readonly [BandName, number])[];

/**
 * Levels (squared envelopes) of the three highest octaves from 500 Hz to 7.5 kHz that the recording
 * carries, at about 2 kHz. Fewer than two when the recording is narrower.
 *
 * What modulates a real source modulates all its octaves together; what a lossy codec or the noise itself
 * does in one octave it does not do in the next. Products of levels of different octaves therefore see
 * only the source.
 */
export function contactLevels(context: ListeningContext): Series[] {
  const carried = OCTAVES.filter(([, needsHz]) => context.recording.bandHz[1] >= needsHz);
  return carried.slice(-3).map(([band]) => thinned(context.envelope(band), LEVEL_RATE_HZ));
}
