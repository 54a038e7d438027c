import type { ExpectedLine } from "../../machine/expected-line.js";
import { synchronousRpm } from "../../machine/induction-motor.js";
import type { ListeningContext } from "../context.js";

// A loaded washer motor slips by 1-8 %: 1725 of 1800 rpm is 4.2 %.
const MIDDLE_SLIP = 0.045;
const SLIP_SPREAD = 0.035;

/**
 * The expected lines of a top loader's wash with a frequency for those that follow a mains-fed motor.
 *
 * In the wash nothing tells the motor's speed, but an induction motor on the mains runs within a few
 * percent of its field from the first tenths of each stroke on. Lines of other machines, other phases and
 * known speeds are handed through.
 */
export function linesAtMainsSpeed(context: ListeningContext): readonly ExpectedLine[] {
  const { expectedLines, profiles, speed, toldPhase } = context;
  const { lineHz } = speed;
  const fed = profiles.filter(({ motor }) => motor.kind === "induction-mains");
  if (toldPhase !== "wash" || lineHz === null || speed.motorRpm !== null || fed.length === 0) {
    return expectedLines;
  }
  const poles = fed[0]!.motor.poles.values[0]!;
  const motorHz = (synchronousRpm(lineHz, poles) / 60) * (1 - MIDDLE_SLIP);
  return expectedLines.map((line) =>
    line.clock === "motor" && line.hz === null && line.drumOrder === null
      ? { ...line, hz: line.multiple * motorHz, tolerance: line.tolerance + SLIP_SPREAD }
      : line,
  );
}
