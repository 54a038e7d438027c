import type { Washer } from "../../machine/profile.js";
import type { Component } from "../../machine/words.js";
import { ACCESS } from "../data/access.data.js";
import type { AccessId, AccessRow } from "./hand-test.js";

export type Axis = AccessRow["axis"];

/** How the drum lies; null when the washer's kind is not known and both are possible. */
export function axisOf(washer: Washer): Axis | null {
  const axes = new Set(washer.profiles.map((profile) => profile.axis));
  return axes.size === 1 ? [...axes][0]! : null;
}

/** A part that only top loaders, and one that only front loaders have. */
const TELLTALE = { vertical: "agitator-dogs", horizontal: "drum-spider" } as const;

/** How the drum lies, as far as the list of the machine's parts tells. */
export function axisOfParts(parts: readonly Component[]): Axis | null {
  const vertical = parts.includes(TELLTALE.vertical);
  if (vertical === parts.includes(TELLTALE.horizontal)) return null;
  return vertical ? "vertical" : "horizontal";
}

/** Ways of opening one kind of machine, as the planner counts them: one bit each. */
export interface MachineAccess {
  readonly rows: readonly AccessRow[];
  /** All accesses that these need, themselves included, as bits. */
  bitsOf(access: readonly AccessId[]): number;
  /** The rows behind the bits, in the order in which they are opened. */
  rowsOf(bits: number): AccessRow[];
}

/** Opening a machine with the drum lying so. */
export function accessOf(axis: Axis): MachineAccess {
  const rows = ACCESS.filter((row) => row.axis === axis);
  const bitsOf = (access: readonly AccessId[]): number => {
    let bits = 0;
    for (const id of access) {
      const index = rows.findIndex((row) => row.access === id);
      if (index >= 0) bits |= (1 << index) | bitsOf(rows[index]!.needs);
    }
    return bits;
  };
  return { rows, bitsOf, rowsOf: (bits) => rows.filter((_, i) => bits & (1 << i)) };
}
