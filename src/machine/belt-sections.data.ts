import type { Sourced } from "./words.js";

/** A ribbed belt's section. The pitch runs across the belt, so it makes no tooth-mesh tone. */
export interface BeltSection extends Sourced {
  readonly section: "H" | "J" | "K" | "L" | "M";
  /** Rib to rib, across the belt. */
  readonly pitchMm: number;
  /** Mass per metre of belt for each rib; null when not known. */
  readonly ribMassKgPerM: number | null;
}

const PITCH = "rib pitch: ISO 9982 (also DIN 7867)";

export const BELT_SECTIONS: readonly BeltSection[] = [
  {
    section: "H",
    pitchMm: 1.6,
    ribMassKgPerM: 0.006,
    source: `${PITCH}; mass: ribbed-belt catalogue citing ISO 9982`,
    provenance: "published",
  },
  {
    section: "J",
    pitchMm: 2.34,
    ribMassKgPerM: 0.009,
    source: `${PITCH}; mass recalled as 0.008-0.010`,
    provenance: "from memory",
  },
  { section: "K", pitchMm: 3.56, ribMassKgPerM: null, source: PITCH, provenance: "published" },
  { section: "L", pitchMm: 4.7, ribMassKgPerM: null, source: PITCH, provenance: "published" },
  { section: "M", pitchMm: 9.4, ribMassKgPerM: null, source: PITCH, provenance: "published" },
];
