import type { Hertz } from "../foundation/units.js";
import { clockRates } from "./clock-rates.js";
import type { RunningState, Washer } from "./profile.js";
import { whatRuns } from "./what-runs.js";

/** Rates of the shafts, Hz; null when a shaft stands, is not there, or its speed is not known. */
export interface ShaftSpeeds {
  readonly drum: Hertz | null;
  readonly motor: Hertz | null;
  readonly agitator: Hertz | null;
  /** Shafts that stand in this phase in every member of the washer. */
  readonly standing: readonly ("drum" | "motor")[];
}

/**
 * Shaft rates of a washer in a running state, as far as they are told or follow from a ratio known
 * within 10 %. Members of a family that disagree leave a shaft unknown.
 */
export function shaftSpeeds(washer: Washer, state: RunningState): ShaftSpeeds {
  const running = washer.profiles.map((profile) => whatRuns(profile, state.phase));
  const rates = washer.profiles.map((profile, i) => clockRates(profile, state, running[i]!));
  const agreed = (pick: (rate: (typeof rates)[number]) => Hertz | null): Hertz | null => {
    const values = new Set(rates.map(pick));
    return values.size === 1 ? [...values][0]! : null;
  };
  return {
    drum: agreed((rate) => rate.drum.hz),
    motor: agreed((rate) => rate.motor.hz),
    agitator: agreed((rate) => rate.agitator.hz),
    standing: (["drum", "motor"] as const).filter((shaft) => !running.some((one) => one[shaft])),
  };
}
