import { combCurve, nullSums, windowMaximum, type Comb } from "./comb-test.js";
import { blankedBins, type LineOwner } from "./known-lines.js";
import { withOwnLines, type LineAxis } from "./line-axis.js";

/** Result of testing one place by itself. */
export interface PlaceTest {
  readonly at: number;
  readonly p: number;
}

/**
 * Tests one comb on an axis against the background within a factor of four, leaving in the known lines
 * of the owner whose place it is. Null when the background cannot be judged.
 */
export function testPlace(axis: LineAxis, comb: Comb, owner: LineOwner | null): PlaceTest | null {
  const { centre, halfWidth, harmonics } = comb;
  const top = harmonics.multiples[harmonics.multiples.length - 1]!;
  if (centre * top > axis.top) return null;
  const forbidden = blankedBins(axis.known, axis.evidence.length, axis.bin);
  const low = Math.max(centre / 4, 4 * axis.resolution);
  const high = Math.min(4 * centre, axis.top / top);
  const background = nullSums(axis, combCurve(axis, harmonics), halfWidth, {
    low: Math.min(low, high / 4),
    high,
    forbidden,
  });
  if (background === null) return null;
  const own = owner === null ? axis : withOwnLines(axis, owner);
  const { value, at } = windowMaximum(combCurve(own, harmonics), centre, halfWidth);
  return { at, p: background.pValue(value) };
}
