import { rpmToHz, type Hertz } from "../foundation/units.js";
import type { ClockRates } from "./clock-rates.js";
import { synchronousRpm } from "./induction-motor.js";
import type { MachineProfile } from "./profile.js";
import type { Phase } from "./words.js";

const HAND_SPIN_RPM = 60;
const USUAL_SLIP = 0.042;

function usualDrumRpm(profile: MachineProfile, phase: Phase): number {
  if (phase === "hand-spin") return HAND_SPIN_RPM;
  if (phase === "wash" && profile.tumbleRpm !== null) return profile.tumbleRpm.typical;
  return profile.spinRpm.typical;
}

/**
 * Rate at which the motor commonly turns in a phase: told or worked out if it can be, else usual.
 * Only good for deciding whether a line falls where a phone can hear it.
 */
export function usualMotorHz(profile: MachineProfile, phase: Phase, clocks: ClockRates): Hertz {
  if (clocks.motor.hz !== null) return clocks.motor.hz;
  if (profile.motor.kind === "induction-mains") {
    const field = synchronousRpm(profile.usualLineHz ?? 60, profile.motor.poles.values[0]!);
    return rpmToHz(field * (1 - USUAL_SLIP));
  }
  const drumHz = clocks.drum.hz ?? rpmToHz(usualDrumRpm(profile, phase));
  return drumHz * profile.motorToDrum.typical;
}
