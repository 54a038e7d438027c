import type { ComplaintFact } from "../../diagnosis/data/complaint.data.js";
import type { Component, Sourced } from "../../machine/words.js";

/** Something told that stops the machine, alone or with a part that is likely. */
export interface StopTrigger extends Sourced {
  readonly facts: readonly ComplaintFact[];
  /** Only with one of these parts likely; left out: whatever is heard. */
  readonly withPart?: readonly Component[];
  readonly text: string;
}

const trade = { source: "common practice, no source", provenance: "common practice" } as const;

/** All facts of a row must be told. */
export const STOP_TRIGGERS: readonly StopTrigger[] = [
  { facts: ["burning"], text: "the customer tells of a burning smell or smoke", ...trade },
  { facts: ["sparks"], text: "the customer tells of sparks", ...trade },
  { facts: ["walks"], text: "the machine walks", ...trade },
  { facts: ["touches-glass"], text: "the drum touches the door, or the boot is cut", ...trade },
  {
    facts: ["turns-with-lid-open"],
    text: "the drum goes on turning with the lid or door open",
    ...trade,
  },
  {
    facts: ["drum-play"],
    withPart: ["drum-bearing", "drum-spider", "hub-nut"],
    text: "the drum is loose, and a part that holds it is likely worn",
    ...trade,
  },
  {
    facts: ["leak", "rust"],
    withPart: ["drum-bearing"],
    text: "water or rust shows below, and the drum bearing is likely worn",
    ...trade,
  },
];

/** From this chance on a part counts as likely for urgency; the chance from which a stop is advised too. */
export const URGENT_FROM = {
  value: 0.3,
  source: "choice: harm outweighs a needless pause",
  provenance: "common practice",
} as const;
