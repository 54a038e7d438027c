import { decoyPValue } from "../../foundation/significance.js";
import type { ExpectedLine } from "../../machine/expected-line.js";
import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import type { LineAxis } from "./line-axis.js";
import { whyMissing } from "./line-features.js";
import type { ClipViews } from "./line-views.js";

const HARMONICS = [1, 2, 3, 4, 5, 6, 7] as const;
/** Rates are tried this share apart: the seventh harmonic then moves by less than its main lobe. */
const RATE_STEP = 1.004;
const LARGEST_LINE = 15;
const DECOYS = 80;
// Eighty decoys, some of them empty, carry a tail no further than this.
const SMALLEST_P = 1e-4;
const GOLDEN = 0.6180339887498949;

/** Shifts of the harmonics of one decoy, as shares of the rate: 0.15-0.45 to either side. */
function decoyShifts(decoy: number): number[] {
  return HARMONICS.map((h) => {
    const u = (decoy * GOLDEN + h * Math.SQRT2) % 1;
    return u < 0.5 ? -0.15 - 0.6 * u : 0.15 + 0.6 * (u - 0.5);
  });
}

const NO_SHIFTS = HARMONICS.map(() => 0);

interface Best {
  readonly value: number;
  readonly hz: number;
}

/** Best rate of the window: sum over harmonics with the strongest left out. */
function bestRate(
  { evidence, bin }: LineAxis,
  window: { readonly lowHz: number; readonly highHz: number },
  shifts: readonly number[],
): Best {
  let best: Best = { value: -1, hz: window.lowHz };
  for (let hz = window.lowHz; hz <= window.highHz; hz *= RATE_STEP) {
    let sum = 0;
    let top = 0;
    for (let i = 0; i < HARMONICS.length; i++) {
      const line = evidence[Math.round((hz * (HARMONICS[i]! + shifts[i]!)) / bin)] ?? 0;
      const counted = Math.min(LARGEST_LINE, line);
      sum += counted;
      top = Math.max(top, counted);
    }
    if (sum - top > best.value) best = { value: sum - top, hz };
  }
  return best;
}

const isMesh = (line: ExpectedLine): boolean => line.kind === "gear-mesh";

/**
 * Gear mesh in the strokes: harmonics 1 to 7 of one rate among those the tooth counts allow, in what
 * sounds during the strokes and not between them. The windows are so wide that decoys beside them do not
 * exist; instead combs whose lines are shifted off the multiples go through the same search.
 */
export function gearMesh(
  context: ListeningContext,
  views: ClipViews,
  lines: readonly ExpectedLine[],
): Measurement {
  const mesh = lines.filter((line) => isMesh(line) && line.hz !== null);
  if (mesh.length === 0 || views.shafts !== null) return whyMissing(context, views, isMesh);
  const axis = views.strokes();
  if (axis === null) return missing("no-events");
  const window = {
    lowHz: Math.min(...mesh.map(({ hz, tolerance }) => hz! * (1 - tolerance))),
    highHz: Math.max(...mesh.map(({ hz, tolerance }) => hz! * (1 + tolerance))),
  };
  const found = bestRate(axis, window, NO_SHIFTS);
  const decoys = Array.from(
    { length: DECOYS },
    (_, d) => bestRate(axis, window, decoyShifts(d)).value,
  );
  const label = mesh[0]!.label;
  const p = Math.max(SMALLEST_P, decoyPValue(found.value, decoys));
  return measured(p, 0.8, { hz: found.hz, label });
}
