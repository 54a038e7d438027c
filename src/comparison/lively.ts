import { CHANGE_MODEL } from "./change-model.data.js";
import { CHANGE_LIMITS } from "./limits.data.js";
import type { Summary } from "./summary.js";

/** One octave may be calm in any recording: the second calmest is asked. */
const ASKED = 1;

/**
 * Nearly every octave swings at 11 to 22 Hz: the machine rattles, or a phone's noise suppression has
 * turned its steady sound into flutter. One recording alone does not tell which.
 */
export function isLively(summary: Summary): boolean {
  const over = CHANGE_MODEL.calmModulation.flatMap((calm, octave) => {
    const db = summary.get(`modulation.${octave}.4`);
    return db === undefined ? [] : [db - calm];
  });
  const second = over.sort((a, b) => a - b)[ASKED];
  return second !== undefined && second > CHANGE_LIMITS.livelyDb;
}
