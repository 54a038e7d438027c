import type { Sourced } from "../../machine/words.js";

const trade = { source: "common practice, no source", provenance: "common practice" } as const;

/** Told with every reading. */
export const METER_CAUTIONS = [
  {
    text: "Unplug the machine, keep the plug in sight, wait 5 minutes, discharge capacitors through a resistor and see that no voltage is left before the tips touch anything.",
    ...trade,
  },
  {
    text: "Take the part off its circuit on at least one side. Measuring under power is for licensed or trained people under local rules.",
    ...trade,
  },
] as const satisfies readonly ({ readonly text: string } & Sourced)[];
