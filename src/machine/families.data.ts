import type { MachineProfileId, Sourced } from "./words.js";

/** A family pools its members: everything that any of them could do is expected. */
export interface FamilyRow extends Sourced {
  readonly id: "top-load" | "front-load" | "unknown";
  readonly label: string;
  readonly members: readonly MachineProfileId[];
}

const TOP: readonly MachineProfileId[] = [
  "top-load-belt",
  "top-load-direct",
  "top-load-direct-geared",
  "top-load-coupled",
  "top-load-belt-reversing",
];

const FRONT: readonly MachineProfileId[] = [
  "front-load-belt-universal",
  "front-load-belt-induction",
  "front-load-belt-bldc",
  "front-load-direct",
];

export const FAMILIES: readonly FamilyRow[] = [
  {
    id: "top-load",
    label: "top loader of unknown kind",
    members: TOP,
    source: "by axis of the drum, common practice, no source",
    provenance: "common practice",
  },
  {
    id: "front-load",
    label: "front loader of unknown kind",
    members: FRONT,
    source: "by axis of the drum, common practice, no source",
    provenance: "common practice",
  },
  {
    id: "unknown",
    label: "washer of unknown kind",
    members: [...TOP, ...FRONT],
    source: "all of them",
    provenance: "common practice",
  },
];
