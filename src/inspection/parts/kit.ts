import type { Component, Sourced } from "../../machine/words.js";

/** Price of a part as a share of a like-for-like new machine: XS under 3 %, XL over 40 %. */
export type PriceBand = "XS" | "S" | "M" | "L" | "XL";

/** What is brought for one fault, on one kind of machine where that matters. */
export interface Kit extends Sourced {
  readonly component: Component;
  readonly axis?: "horizontal" | "vertical";
  /** What lies in the kit, as it is asked for at the counter; empty: nothing is needed. */
  readonly items: readonly string[];
  /** Of what is carried along; null when nothing is. */
  readonly band: PriceBand | null;
  /** Dearest part the repair can come to. */
  readonly dearest: PriceBand | null;
  /** Ordered only once the machine is open and this is seen. */
  readonly onlyIf?: string;
}

/** A tool beyond drivers, pliers and a socket set. */
export interface ToolRow extends Sourced {
  readonly component: Component;
  readonly axis?: "horizontal" | "vertical";
  readonly tools: readonly string[];
  /** Hexagons met on this job, one of each pair of systems; differ between makes. */
  readonly hexagons: readonly string[];
}

/** Something about a fastening that costs a second visit, or a finger. */
export interface FastenerTrap extends Sourced {
  readonly components: readonly Component[];
  readonly axis?: "horizontal" | "vertical";
  readonly text: string;
}

/** A step of putting it back together that is easily forgotten. */
export interface RefittingNote extends Sourced {
  readonly components: readonly Component[];
  readonly axis?: "horizontal" | "vertical";
  readonly text: string;
}
