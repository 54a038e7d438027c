import { beltTurnsPerPulleyTurn, pulleyRatio } from "./belt-drive.js";
import { layoutOfBelt, shortestBelt } from "./belt-layout.js";
import { BELT_SECTIONS } from "./belt-sections.data.js";
import { findBearing } from "./bearing-families.js";
import { bearingFromMultiples } from "./bearing-from-multiples.js";
import { BEARINGS, type BallSet } from "./bearings.data.js";
import { machineFileError } from "./machine-file-error.js";
import type { BearingEntry, MachineFile, SpanEntry } from "./machine-file-schema.js";
import type { BeltProfile, Choices, Span } from "./profile.js";

/** Creep of a sound belt, usual and largest. */
const CREEP = { usual: 0.01, most: 0.02 } as const;
/** Printed sizes are nominal: effective diameters and stretched lengths differ by about this share. */
const NOMINAL = 0.01;

const told = (name: string) => ({ source: `machine file ${name}`, provenance: "told" }) as const;

/** A span from one number (with `share` to each side) or from a range. */
export function toldSpan(entry: SpanEntry, name: string, share = 0): Span {
  if (typeof entry === "object") return { ...entry, ...told(name) };
  return { low: entry * (1 - share), typical: entry, high: entry * (1 + share), ...told(name) };
}

/** A single whole number that is known. */
export const toldChoice = (value: number, name: string): Choices => ({
  values: [value],
  ...told(name),
});

function ballSet(entry: BearingEntry, field: string, name: string): BallSet {
  if (typeof entry === "string") {
    const row = findBearing(entry);
    if (row !== undefined) return row;
    const known = BEARINGS.map(({ designation }) => designation).join(", ");
    throw machineFileError(
      name,
      `${field} must be one of ${known}, or { "balls", "ballMm", "pitchMm" }, received "${entry}".`,
      { field, received: entry },
    );
  }
  if ("balls" in entry) {
    const { contactDeg, ...sizes } = entry;
    if (entry.ballMm >= entry.pitchMm / 2) {
      throw machineFileError(
        name,
        `${field}.ballMm must be less than half of pitchMm ${entry.pitchMm}, received ${entry.ballMm}.`,
        { field },
      );
    }
    return { designation: field, ...sizes, contactDeg: contactDeg ?? 0, ...told(name) };
  }
  const { cage, ...races } = entry;
  const geometry = bearingFromMultiples({ ...races, ...(cage === undefined ? {} : { cage }) });
  if (geometry === null) {
    throw machineFileError(
      name,
      `${field} contradicts itself: outer + inner must be the whole number of balls, inner the larger, ` +
        `and cage outer / balls; received ${JSON.stringify(entry)}.`,
      { field },
    );
  }
  const { balls, ball, pitch } = geometry;
  return { designation: field, balls, ballMm: ball, pitchMm: pitch, ...told(name) };
}

/** Bearings told, as ball sets; `field` is the list's name in the file. */
export const toldBearings = (
  entries: readonly BearingEntry[],
  field: string,
  name: string,
): BallSet[] => entries.map((entry, i) => ballSet(entry, `${field}[${i}]`, name));

type ToldBelt = NonNullable<MachineFile["belt"]>;

function beltMass(belt: ToldBelt, base: Span, name: string): Span {
  const row = BELT_SECTIONS.find(({ section }) => section === belt.section);
  if (row?.ribMassKgPerM == null || belt.ribs === undefined) return base;
  return toldSpan(row.ribMassKgPerM * belt.ribs, name, 0.1);
}

/** The belt's data with what was told in place of what is usual. */
export function toldBelt(belt: ToldBelt, base: BeltProfile, name: string): BeltProfile {
  const { motorPulleyMm: small, drumPulleyMm: large, lengthMm: length } = belt;
  const laidOut = small !== undefined && large !== undefined && length !== undefined;
  if (laidOut && length < shortestBelt(small, large)) {
    throw machineFileError(
      name,
      `belt.lengthMm must be at least ${Math.ceil(shortestBelt(small, large))} mm to go round ` +
        `pulleys of ${small} and ${large} mm, received ${length}.`,
      { field: "belt.lengthMm" },
    );
  }
  const spanMm = belt.spanMm ?? (laidOut ? layoutOfBelt(small, large, length).span : undefined);
  const known = (value: number | undefined, usual: Span): Span =>
    value === undefined ? usual : toldSpan(value, name, NOMINAL);
  return {
    ...base,
    motorPulleyMm: known(small, base.motorPulleyMm),
    drumPulleyMm: known(large, base.drumPulleyMm),
    lengthMm: known(length, base.lengthMm),
    spanMm: known(spanMm, base.spanMm),
    beltToDrum:
      large === undefined || length === undefined
        ? base.beltToDrum
        : toldSpan(beltTurnsPerPulleyTurn(large, length), name, NOMINAL),
    tensionNewton:
      belt.tensionNewton === undefined ? base.tensionNewton : toldSpan(belt.tensionNewton, name),
    massKgPerM: beltMass(belt, base.massKgPerM, name),
  };
}

/** Drive ratio from both pulleys, with the creep of a sound belt; null unless both are told. */
export function ratioOfPulleys(belt: ToldBelt | undefined, name: string): Span | null {
  if (belt?.motorPulleyMm === undefined || belt.drumPulleyMm === undefined) return null;
  const ratio = (slip: number): number =>
    pulleyRatio(belt.motorPulleyMm!, belt.drumPulleyMm!, slip);
  return {
    low: ratio(0),
    typical: ratio(CREEP.usual),
    high: ratio(CREEP.most),
    ...told(name),
  };
}
