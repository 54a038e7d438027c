import {
  combCurve,
  fittingHarmonics,
  nullSums,
  windowMaximum,
  type Comb,
  type CombCurve,
  type DecoyRange,
  type Harmonics,
} from "./comb-test.js";
import { blankedBins, type LineOwner } from "./known-lines.js";
import { withOwnLines, type LineAxis } from "./line-axis.js";
import type { PlacedLine } from "./place-lines.js";

/** Lines whose windows cover one another: one question put to the clip, whoever asks. */
export interface LineGroup {
  readonly axis: LineAxis;
  readonly members: readonly PlacedLine[];
  readonly comb: Comb;
}

/** Answer for one line. */
export interface LineTest {
  readonly placed: PlacedLine;
  readonly group: LineGroup;
  /** Place of the best match in the line's own window. */
  readonly at: number;
  readonly p: number;
  /** Places where nothing is expected, for further tests. */
  readonly decoys: readonly number[];
}

const sameQuestion = (a: PlacedLine, b: PlacedLine): boolean =>
  a.axis === b.axis &&
  a.owner === b.owner &&
  a.line.part === b.line.part &&
  Math.abs(a.comb.centre - b.comb.centre) <= Math.max(a.comb.halfWidth, b.comb.halfWidth);

/** Joins lines of one part whose windows overlap by half or more into one window. */
export function groupLines(placed: readonly PlacedLine[]): LineGroup[] {
  const groups: PlacedLine[][] = [];
  for (const one of [...placed].sort((a, b) => a.comb.centre - b.comb.centre)) {
    const home = groups.find((group) => group.every((other) => sameQuestion(one, other)));
    if (home) home.push(one);
    else groups.push([one]);
  }
  return groups.map((members) => {
    const low = Math.min(...members.map(({ comb }) => comb.centre - comb.halfWidth));
    const high = Math.max(...members.map(({ comb }) => comb.centre + comb.halfWidth));
    const axis = members[0]!.axis;
    const centre = (low + high) / 2;
    const harmonics = fittingHarmonics(members[0]!.comb.harmonics, high, axis.top);
    return { axis, members, comb: { centre, halfWidth: (high - low) / 2, harmonics } };
  });
}

/** A match that is too good to be background, and so must not count as such for other lines. */
interface Outstanding {
  readonly at: number;
  readonly axis: LineAxis;
}

const FRACTIONS = [1 / 3, 1 / 2, 2 / 3, 1, 3 / 2, 2, 3] as const;

function fillAround(out: Uint8Array, bin: number, place: number, guard: number): void {
  const low = Math.max(0, Math.floor((place - guard) / bin));
  out.fill(1, low, Math.max(low, Math.ceil((place + guard) / bin) + 1));
}

/** Known lines, the group's own window with its half and double, and what stands out elsewhere. */
function forbiddenBins(group: LineGroup, outstanding: readonly Outstanding[]): Uint8Array {
  const { axis, comb } = group;
  const out = blankedBins(axis.known, axis.evidence.length, axis.bin);
  for (const factor of [0.5, 1, 2]) {
    fillAround(out, axis.bin, comb.centre * factor, comb.halfWidth * factor);
  }
  for (const { at, axis: where } of outstanding) {
    if (where !== axis) continue;
    for (const fraction of FRACTIONS) fillAround(out, axis.bin, at * fraction, 4 * axis.resolution);
  }
  return out;
}

// Below this the background thins out, because slow drift was taken off.
const DRIFT_FREE_HZ = 4;

/**
 * Decoys from a quarter to five times the window's centre: far enough for many independent places, near
 * enough for a background of the same kind.
 */
function rangeFor(axis: LineAxis, comb: Comb, forbidden: Uint8Array): DecoyRange {
  const top = comb.harmonics.multiples[comb.harmonics.multiples.length - 1]!;
  const high = Math.min(5 * comb.centre, axis.top / top);
  const drifting = Math.min(comb.centre / 2, DRIFT_FREE_HZ / axis.hzPerPlace);
  const low = Math.max(comb.centre / 4, drifting, 4 * axis.resolution);
  return { low: Math.min(low, high / 4), high, forbidden };
}

const OUTSTANDING_P = 0.005;

// Slow swings of level are common to all bands and lie under the places that matter to belt and cage.
// On simulated sound parts with such swings lines under 20 Hz came out 2.5 to 4 times too often at
// p = 0.01 (tests/evidence/lines-bench.ts, 960 clips), so their p is raised.
const SWINGING_HZ = 20;
const SWING_FACTOR = 3;

const raised = (p: number, hz: number): number =>
  hz < SWINGING_HZ ? Math.min(1, SWING_FACTOR * p) : p;

/** Tests groups of one clip, sharing curves between groups of one axis, owner and comb. */
export class WindowTester {
  private readonly curves = new Map<LineAxis, Map<string, CombCurve>>();
  private readonly groups: readonly LineGroup[];

  constructor(groups: readonly LineGroup[]) {
    this.groups = groups;
  }

  /** The curve of an axis, with the lines of one owner left in unless it is null. */
  private curve(axis: LineAxis, harmonics: Harmonics, owner: LineOwner | null): CombCurve {
    const ofAxis = this.curves.get(axis) ?? new Map<string, CombCurve>();
    this.curves.set(axis, ofAxis);
    const key = `${owner ?? "none"} ${harmonics.multiples.join(" ")}`;
    const known = ofAxis.get(key);
    if (known !== undefined) return known;
    const made = combCurve(owner === null ? axis : withOwnLines(axis, owner), harmonics);
    ofAxis.set(key, made);
    return made;
  }

  /** Tests every line of a group; empty when the clip's background cannot be judged there. */
  private test(group: LineGroup, outstanding: readonly Outstanding[]): LineTest[] {
    const { axis, comb, members } = group;
    const shared = this.curve(axis, comb.harmonics, null);
    const range = rangeFor(axis, comb, forbiddenBins(group, outstanding));
    const background = nullSums(axis, shared, comb.halfWidth, range);
    if (background === null) return [];
    const curve = this.curve(axis, comb.harmonics, members[0]!.owner);
    return members.map((placed) => {
      const { centre, halfWidth } = placed.comb;
      const { value, at } = windowMaximum(curve, centre, halfWidth);
      const p = raised(background.pValue(value), centre * axis.hzPerPlace);
      return { placed, group, at, p, decoys: background.places };
    });
  }

  /**
   * Tests all lines twice: the second time what stood out the first time is no longer taken for
   * background, so that one fault does not hide behind another's lines.
   */
  testAll(): LineTest[] {
    const first = this.groups.flatMap((group) => this.test(group, []));
    const outstanding = first
      .filter(({ p }) => p < OUTSTANDING_P)
      .map(({ at, group }) => ({ at, axis: group.axis }));
    return outstanding.length === 0
      ? first
      : this.groups.flatMap((group) => this.test(group, outstanding));
  }
}
