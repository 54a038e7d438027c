import type { LineFinding } from "../evidence/evidence.js";
import type { MachineProfile } from "../machine/profile.js";
import type { ExpectedLine, LineKind } from "../machine/expected-line.js";
import type { LineFamily, LineMark } from "./picture-data.js";

const FAMILY_OF_KIND: Partial<Record<LineKind, LineFamily>> = {
  "belt-pass": "belt",
  "belt-span": "belt",
  pulley: "belt",
  "gear-mesh": "gear",
  "planet-pass": "gear",
  "gear-fault": "gear",
  "pump-rotation": "pump",
  "pump-vane": "pump",
  "mains-hum": "mains",
  lifter: "drum",
  commutator: "motor",
  "armature-slot": "motor",
  "rotor-slot": "motor",
  "pole-pass": "motor",
  cogging: "motor",
  "torque-ripple": "motor",
  "pwm-carrier": "motor",
};

/** Whose line it is: by what makes it, then by what it follows. */
export function familyOf(line: ExpectedLine): LineFamily {
  if (line.kind.startsWith("bearing-")) return "bearing";
  const family = FAMILY_OF_KIND[line.kind];
  if (family !== undefined) return family;
  if (line.clock === "motor") return "motor";
  return line.clock === "drum" ? "drum" : "other";
}

/** A line that stands out from noise of its own clip is called heard from here (Holm-adjusted). */
const HEARD_P = 0.05;

export const isHeard = (finding: LineFinding): boolean =>
  finding.pAdjusted < HEARD_P && !finding.confounded;

interface Placed {
  readonly place: number;
  readonly centre: number;
  readonly hz: number;
}

function markOf(finding: LineFinding, { place, centre, hz }: Placed): LineMark {
  const { line, p, pAdjusted, confounded } = finding;
  const heard = isHeard(finding);
  return {
    family: familyOf(line),
    label: line.label,
    place,
    low: centre * (1 - line.tolerance),
    high: centre * (1 + line.tolerance),
    hz,
    heard,
    hint: !heard && !confounded && p < HEARD_P,
    confounded,
    pAdjusted,
  };
}

/** Marks on an axis of drum orders; lines that do not follow the drum are placed at its typical speed. */
export const orderMarks = (findings: readonly LineFinding[], drumHz: number): LineMark[] =>
  findings
    .filter(({ line }) => line.seenIn === "envelope")
    .map((finding) => {
      const { line, heardOrder, heardHz } = finding;
      const place = heardOrder ?? heardHz / drumHz;
      const centre = line.drumOrder ?? (line.hz === null ? place : line.hz / drumHz);
      return markOf(finding, { place, centre, hz: place * drumHz });
    });

/**
 * Where the motor's turn commonly lies on an axis of orders, when its speed was not heard: a range over
 * the washer's kinds. Null on direct drives, whose motor turns with the drum, and where a kind has none.
 */
export function usualMotorMark(
  profiles: readonly MachineProfile[],
  drumHz: number,
): LineMark | null {
  const geared = profiles
    .map(({ motorToDrum }) => motorToDrum)
    .filter(({ typical }) => typical > 1.2);
  if (geared.length === 0 || geared.length < profiles.length) return null;
  const place = geared.reduce((sum, { typical }) => sum + typical, 0) / geared.length;
  return {
    family: "motor",
    label: "motor, once per turn (usual range)",
    place,
    low: Math.min(...geared.map(({ low }) => low)),
    high: Math.max(...geared.map(({ high }) => high)),
    hz: place * drumHz,
    heard: false,
    hint: false,
    confounded: false,
    pAdjusted: null,
  };
}

/**
 * Marks on an axis of Hz. Lines that follow the drum are placed at its typical speed.
 *
 * @param drumHz turns per second, or null when not known
 */
export const hertzMarks = (
  findings: readonly LineFinding[],
  seenIn: "envelope" | "spectrum",
  drumHz: number | null,
): LineMark[] =>
  findings
    .filter(({ line }) => line.seenIn === seenIn)
    .map((finding) => {
      const { line, heardOrder, heardHz } = finding;
      const bound = heardOrder !== null && drumHz !== null;
      const hz = bound ? heardOrder * drumHz : heardHz;
      const centre = bound && line.drumOrder !== null ? line.drumOrder * drumHz : (line.hz ?? hz);
      return markOf(finding, { place: hz, centre, hz });
    });
