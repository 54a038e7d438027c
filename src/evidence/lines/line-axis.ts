import type { AxisSpectrum } from "./axis-spectrum.js";
import type { EvidenceAxis } from "./comb-test.js";
import { blankedBins, withoutBlanked, type KnownLine, type LineOwner } from "./known-lines.js";

/** An axis of orders or hertz on which expected lines are looked for. */
export interface LineAxis extends EvidenceAxis {
  /** Evidence before the known lines were blanked, shape [bins]. */
  readonly unblanked: Float64Array;
  readonly known: readonly KnownLine[];
  /** Highest place with evidence. */
  readonly top: number;
  /** Place of the drum's first order: 1 but for a small correction of the speed; null on a hertz axis. */
  readonly drumPlace: number | null;
  /** Place of the motor's first order, or null. */
  readonly motorPlace: number | null;
  /** Relative error left in the motor's place. */
  readonly motorError: number;
  /** Relative error of the clock itself, which smears lines. */
  readonly clockError: number;
  /** Typical Hz of a place. */
  readonly hzPerPlace: number;
}

// About a fifth of noise bins exceed this: the clipped sum listens to bins that stand out.
const CLIP = 1.5;

/** Clipped sum over bands: Σ_b max(excess_b - 1.5, 0). Shape [bins]. */
export function clippedSum(bands: readonly AxisSpectrum[]): Float64Array {
  const bins = Math.min(...bands.map(({ excess }) => excess.length));
  const out = new Float64Array(bins);
  for (const { excess } of bands) {
    for (let k = 0; k < bins; k++) {
      const over = excess[k]! - CLIP;
      if (over > 0) out[k]! += over;
    }
  }
  return out;
}

export type AxisFacts = Omit<LineAxis, "evidence" | "top">;

// Evidence that noise seldom holds over neighbouring bins.
const SKIRT = 2;

/** Widens a known line over its own skirt: neighbouring bins that stand out without a gap. */
function withSkirt(line: KnownLine, facts: AxisFacts): KnownLine {
  const { unblanked, bin, resolution, clockError } = facts;
  const limit = 3 * resolution + 2 * clockError * line.place;
  const reach = (direction: 1 | -1): number => {
    let k = Math.round((line.place + direction * line.halfWidth) / bin);
    const start = k;
    while (
      Math.abs(k - start) * bin < limit &&
      ((unblanked[k + direction] ?? 0) > SKIRT || (unblanked[k + 2 * direction] ?? 0) > SKIRT)
    ) {
      k += direction;
    }
    return Math.abs(k - start) * bin;
  };
  return { ...line, halfWidth: line.halfWidth + Math.max(reach(1), reach(-1)) };
}

/** Completes an axis: blanks the known lines with their skirts and notes its top. */
export function lineAxis(facts: AxisFacts): LineAxis {
  const { unblanked, bin } = facts;
  const known = facts.known.map((line) => withSkirt(line, facts));
  return {
    ...facts,
    known,
    evidence: withoutBlanked(unblanked, blankedBins(known, unblanked.length, bin)),
    top: (unblanked.length - 1) * bin,
  };
}

/** The same axis with the lines of one owner left in, for testing lines that are that owner's own. */
export const withOwnLines = (axis: LineAxis, owner: LineOwner): LineAxis => ({
  ...axis,
  evidence: withoutBlanked(
    axis.unblanked,
    blankedBins(axis.known, axis.unblanked.length, axis.bin, owner),
  ),
});
