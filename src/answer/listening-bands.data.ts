import type { Character, Sourced } from "../machine/words.js";

export interface ListeningBand extends Sourced {
  readonly character: Exclude<Character, "none">;
  /** Band in which this kind of noise is best heard on a phone recording, Hz. */
  readonly bandHz: readonly [low: number, high: number];
  readonly note: string;
}

const trade = { source: "common practice, no source", provenance: "common practice" } as const;

/** What to listen to when no single line gives the noise away. */
export const LISTENING_BANDS: readonly ListeningBand[] = [
  {
    character: "grinding",
    bandHz: [1000, 6000],
    note: "Rough surfaces rolling on each other are heard best here, above the hum of the motor.",
    ...trade,
  },
  {
    character: "whirring",
    bandHz: [300, 3000],
    note: "The tones of whatever spins lie here.",
    ...trade,
  },
  {
    character: "thumping",
    bandHz: [60, 500],
    note: "Blows of heavy parts lie here. Use headphones: a phone's loudspeaker hardly plays it.",
    ...trade,
  },
  {
    character: "squealing",
    bandHz: [800, 6000],
    note: "Rubber and dry metal sing here.",
    ...trade,
  },
  {
    character: "rattling",
    bandHz: [1000, 7500],
    note: "Small hard parts that strike each other are heard best here.",
    ...trade,
  },
  {
    character: "humming",
    bandHz: [80, 700],
    note: "The hum of magnets and pumps lies here.",
    ...trade,
  },
];
