import type { Character, Component } from "../../machine/words.js";

/** What state the part is probably in, given what it sounds like. */
export const CONDITIONS: Readonly<
  Partial<Record<Component, Readonly<Partial<Record<Character, string>>>>>
> = {
  "drum-bearing": { whirring: "early wear", grinding: "worn" },
  "drive-belt": { squealing: "slipping", rattling: "damaged", thumping: "damaged" },
  "drain-pump": {
    rattling: "something caught in it",
    grinding: "something caught in it",
    humming: "worn bush or stalled",
  },
  "inlet-valve": { humming: "buzzing", thumping: "water hammer" },
};
