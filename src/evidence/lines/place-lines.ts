import type { ExpectedLine, LineKind } from "../../machine/expected-line.js";
import { IMPACT_HARMONICS, type Comb } from "./comb-test.js";
import { ENVELOPE_TOP_HZ } from "./drum-axes.js";
import type { LineOwner } from "./known-lines.js";
import type { LineAxis } from "./line-axis.js";

/** The views of a clip on which lines can be looked for; null where there is none. */
export interface LineViews {
  readonly drumEnvelope: () => LineAxis | null;
  readonly drumFastEnvelope: () => LineAxis | null;
  readonly drumSound: () => LineAxis | null;
  readonly hertzEnvelope: () => LineAxis | null;
  readonly hertzSound: () => LineAxis | null;
  readonly strokes: () => LineAxis | null;
  /** Drum speed in Hz for choosing a view, or null. */
  readonly drumHz: number | null;
  /** Motor speed in Hz where the motor is heard and the drum is not, or null. */
  readonly motorHz: number | null;
}

/** Where a line is looked for. */
export interface PlacedLine {
  readonly line: ExpectedLine;
  readonly axis: LineAxis;
  readonly comb: Comb;
  /** Whose known lines the line is one of, or null. */
  readonly owner: LineOwner | null;
}

// Wide bumps and switching frequencies are not lines of a comb.
const NOT_COMBS: ReadonlySet<LineKind> = new Set(["belt-span", "suspension", "pwm-carrier"]);

const SHAFT_BOUND: ReadonlySet<LineKind> = new Set([
  "shaft",
  "lifter",
  "commutator",
  "armature-slot",
  "rotor-slot",
  "pole-pass",
  "cogging",
  "torque-ripple",
  "gear-mesh",
  "pump-rotation",
  "pump-vane",
]);

function ownerOf(line: ExpectedLine): LineOwner | null {
  if (line.clock === "mains") return "mains";
  if (!SHAFT_BOUND.has(line.kind)) return null;
  if (line.clock === "motor") return "motor";
  // On a direct drive the motor's orders are named by the drum's clock.
  if (line.clock === "drum") return line.seenIn === "spectrum" ? "motor" : "drum";
  return null;
}

function viewOf(line: ExpectedLine, hz: number, views: LineViews): LineAxis | null {
  if (line.seenIn === "spectrum") return views.drumSound();
  return hz <= 0.75 * ENVELOPE_TOP_HZ ? views.drumEnvelope() : views.drumFastEnvelope();
}

/** On the axis that turns with the drum, or with the motor that is heard without it. */
function onTurnAxis(line: ExpectedLine, views: LineViews): PlacedLine | null {
  const hz =
    views.drumHz !== null ? line.drumOrder! * views.drumHz : line.multiple * views.motorHz!;
  const axis = viewOf(line, hz, views);
  if (axis === null) return null;
  const motor = line.clock === "motor" && axis.motorPlace !== null;
  const centre = motor ? line.multiple * axis.motorPlace! : line.drumOrder! * (axis.drumPlace ?? 1);
  const slack = motor ? axis.motorError : 0;
  return {
    line,
    axis,
    comb: { centre, halfWidth: centre * (line.tolerance + slack), harmonics: IMPACT_HARMONICS },
    owner: ownerOf(line),
  };
}

// Gears mesh while the agitator strokes, with the drum held; in the spin the set is locked.
const MESHING: ReadonlySet<LineKind> = new Set(["gear-mesh", "planet-pass", "gear-fault"]);

function hertzAxisOf(line: ExpectedLine, views: LineViews): LineAxis | null {
  if (!MESHING.has(line.kind)) {
    return line.seenIn === "spectrum" ? views.hertzSound() : views.hertzEnvelope();
  }
  // Strokes of a second at most are too short to resolve slow modulation.
  return line.seenIn === "spectrum" ? views.strokes() : null;
}

function onHertzAxis(line: ExpectedLine, views: LineViews): PlacedLine | null {
  const axis = hertzAxisOf(line, views);
  if (axis === null) return null;
  const centre = line.hz!;
  const comb = { centre, halfWidth: centre * line.tolerance, harmonics: IMPACT_HARMONICS };
  return { line, axis, comb, owner: ownerOf(line) };
}

/** Finds the view and the window for each line; lines whose clock is not known are left out. */
export function placeLines(lines: readonly ExpectedLine[], views: LineViews): PlacedLine[] {
  return lines.flatMap((line) => {
    if (NOT_COMBS.has(line.kind)) return [];
    if (MESHING.has(line.kind) && views.drumHz !== null) return [];
    const drumBound = line.drumOrder !== null && views.drumHz !== null;
    const motorBound = line.clock === "motor" && views.motorHz !== null;
    if (!drumBound && !motorBound && (line.hz === null || line.clock === "drum")) return [];
    const placed = drumBound || motorBound ? onTurnAxis(line, views) : onHertzAxis(line, views);
    if (placed === null || placed.comb.centre + placed.comb.halfWidth > placed.axis.top) return [];
    return [placed];
  });
}
