import type { BearingFamily } from "../bearing-families.js";
import type { Clock, LineKind } from "../expected-line.js";
import type { Window } from "../windows.js";
import type { Component } from "../words.js";
import type { LineDraft } from "./draft.js";

/** Where a set of bearings sits and how its lines are to be heard. */
export interface BearingSite {
  readonly part: Component;
  readonly name: string;
  readonly clock: Clock;
  /** Modulation of an outer-race fault in turns of the clock; null when the load stands still. */
  readonly outerSideband: number | null;
  readonly seenIn: (multiple: number) => "envelope" | "spectrum";
  /** Name the balls' lines too. */
  readonly strikes: boolean;
}

const SOURCE =
  "kinematic rates from the geometry (Harris and Kotzalas, Rolling Bearing Analysis); window: slip " +
  "1-2 % (Randall and Antoni, MSSP 25, 2011, recalled) and makes that differ by 1.5 %";

function line(
  site: BearingSite,
  kind: LineKind,
  key: string,
  window: Window,
  words: Pick<LineDraft, "label" | "meaning" | "sidebandMultiple">,
): LineDraft {
  return {
    id: `${site.part}/${key}`,
    part: site.part,
    kind,
    clock: site.clock,
    ...window,
    seenIn: site.seenIn(window.multiple),
    healthy: false,
    ...words,
    source: SOURCE,
    provenance: "computed",
  };
}

function familyLines(family: BearingFamily, site: BearingSite): LineDraft[] {
  const balls = `${family.balls}-ball`;
  const ending = `${family.balls} balls`;
  const outer = line(site, "bearing-outer", `outer/${balls}`, family.outer, {
    label: `${site.name}, outer race, ${ending}`,
    meaning: "Balls strike a spot on the outer race.",
    sidebandMultiple: site.outerSideband,
  });
  const inner = line(site, "bearing-inner", `inner/${balls}`, family.inner, {
    label: `${site.name}, inner race, ${ending}`,
    meaning: "Balls strike a spot on the inner race; it swells once per turn of the shaft.",
    sidebandMultiple: 1,
  });
  if (!site.strikes) return [outer, inner];
  const ball = line(site, "bearing-ball", `ball/${balls}`, family.ballStrikes, {
    label: `${site.name}, spot on a ball, ${ending}`,
    meaning: "A spot on a ball strikes both races: twice the ball's own spin rate.",
    sidebandMultiple: family.cage.multiple,
  });
  return [outer, inner, ball];
}

/** Cages of all families turn at 0.36-0.42 of the shaft: one line speaks for all of them. */
function cageLine(families: readonly BearingFamily[], site: BearingSite): LineDraft {
  const low = Math.min(...families.map(({ cage }) => cage.multiple * (1 - cage.tolerance)));
  const high = Math.max(...families.map(({ cage }) => cage.multiple * (1 + cage.tolerance)));
  const window = { multiple: (low + high) / 2, tolerance: (high - low) / (high + low) };
  return line(site, "bearing-cage", "cage", window, {
    label: `${site.name}, cage`,
    meaning: "The ball set turns with the cage: roughness comes and goes at this rate.",
    sidebandMultiple: null,
  });
}

/** One line per family and race, and one for all cages. Audio names a family, never a part number. */
export const bearingLines = (families: readonly BearingFamily[], site: BearingSite): LineDraft[] =>
  families.length === 0
    ? []
    : [...families.flatMap((family) => familyLines(family, site)), cageLine(families, site)];
