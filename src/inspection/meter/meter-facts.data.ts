import type { Sourced } from "../../machine/words.js";

/** A figure that the judgement of a reading stands on. */
export interface MeterFact extends Sourced {
  readonly value: number;
  /** What the figure is, with its unit. */
  readonly what: string;
}

const trade = { source: "common practice, no source", provenance: "common practice" } as const;
const memory = { source: "habits of hand-held meters", provenance: "from memory" } as const;

export const METER_FACTS = {
  tolerancePercent: {
    value: 10,
    what: "a coil may lie this many percent from the value on the machine's own data sheet, unless the sheet says otherwise",
    ...trade,
  },
  capacitorPercent: {
    value: 10,
    what: "a motor capacitor may lie this many percent from its marking, unless the marking says otherwise",
    ...trade,
  },
  windingsPercent: {
    value: 10,
    what: "three windings of one motor are equal within this many percent",
    ...trade,
  },
  closedBelowOhm: { value: 1, what: "a good closed contact reads less, in ohm", ...trade },
  badContactOhm: { value: 5, what: "a contact that reads more is bad, in ohm", ...trade },
  openAboveOhm: {
    value: 1e6,
    what: "an open contact, or a winding to earth, reads at least this, in ohm",
    ...trade,
  },
  otherMakeFactor: {
    value: 3,
    what: "ratings of two makes of one part differ by no more than this factor",
    source: "one pair of makes seen: about 3700 ohm in place of 5700 ohm; the factor is a guess",
    provenance: "from memory",
  },
  edgeShare: {
    value: 0.9,
    what: "from this share of the tolerance on, a reading counts as at the edge",
    ...trade,
  },
  oldFromYears: {
    value: 6,
    what: "a part counts as old from half the expected life on, in years",
    source: "half of a mean life of 12.6 years (European study of washing machine repairs, 2019)",
    provenance: "published",
  },
  copperPerKelvin: {
    value: 0.00393,
    what: "relative rise of copper's resistance per kelvin at 20 °C",
    source: "IEC 60028, standard annealed copper",
    provenance: "published",
  },
  warmestCoilKelvin: {
    value: 80,
    what: "a coil that has just run is at most this much warmer than the room, in kelvin",
    ...memory,
  },
  usualLeadsOhm: {
    value: 0.5,
    what: "test leads add up to this much, in ohm, when nobody has measured them",
    ...memory,
  },
  leadsMatterBelowOhm: {
    value: 100,
    what: "leads that nobody has measured matter below this reading, in ohm",
    ...memory,
  },
  ohmPercent: { value: 1, what: "usual accuracy in the ohm ranges, percent of reading", ...memory },
  ohmCounts: { value: 3, what: "usual accuracy in the ohm ranges, counts", ...memory },
  faradPercent: { value: 3, what: "usual accuracy for capacitors, percent of reading", ...memory },
  faradCounts: { value: 5, what: "usual accuracy for capacitors, counts", ...memory },
  temperatureKelvin: {
    value: 1,
    what: "a room thermometer tells a sensor's temperature within this, in kelvin",
    ...memory,
  },
} as const satisfies Record<string, MeterFact>;
