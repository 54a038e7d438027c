import { rpmToHz, type Hertz, type Rpm } from "../foundation/units.js";
import type { Clock } from "./expected-line.js";
import type { MachineProfile, RunningState, Span } from "./profile.js";
import type { Running } from "./what-runs.js";

/** How fast a clock runs at the speed asked for. */
export interface ClockRate {
  /** Turns per second; null when it stands or is not known. */
  readonly hz: Hertz | null;
  /** Turns per drum turn; null when not tied to the drum or not known. */
  readonly perDrumTurn: number | null;
  /** Share by which the rate may be off, because a ratio between makes had to be used. */
  readonly spread: number;
}

export type ClockRates = Readonly<Record<Clock, ClockRate>>;

/** A ratio is good enough to carry a speed across when makes differ by no more than this share. */
export const NARROW_RATIO = 0.1;

const UNKNOWN: ClockRate = { hz: null, perDrumTurn: null, spread: 0 };

/** Largest deviation of a span from its usual value, as a share of it. */
export const spanSpread = (span: Span): number =>
  Math.max(span.high - span.typical, span.typical - span.low) / span.typical;

const known = (rpm: Rpm | null): rpm is Rpm => rpm !== null && rpm > 0;

function drumAndMotor(
  profile: MachineProfile,
  state: RunningState,
): { drum: ClockRate; motor: ClockRate } {
  const { drumRpm, motorRpm } = state;
  const ratio = profile.motorToDrum;
  const spread = spanSpread(ratio);
  const carries = spread <= NARROW_RATIO;
  const drum = (hz: Hertz | null, by: number): ClockRate => ({ hz, perDrumTurn: 1, spread: by });
  if (known(drumRpm) && known(motorRpm)) {
    return {
      drum: drum(rpmToHz(drumRpm), 0),
      motor: { hz: rpmToHz(motorRpm), perDrumTurn: motorRpm / drumRpm, spread: 0 },
    };
  }
  if (known(drumRpm)) {
    const drumHz = rpmToHz(drumRpm);
    const motor = { hz: drumHz * ratio.typical, perDrumTurn: ratio.typical, spread };
    return { drum: drum(drumHz, 0), motor: carries ? motor : UNKNOWN };
  }
  if (known(motorRpm)) {
    const motorHz = rpmToHz(motorRpm);
    return {
      drum: carries ? drum(motorHz / ratio.typical, spread) : drum(null, 0),
      motor: { hz: motorHz, perDrumTurn: carries ? ratio.typical : null, spread: 0 },
    };
  }
  return {
    drum: drum(null, 0),
    motor: carries ? { hz: null, perDrumTurn: ratio.typical, spread } : UNKNOWN,
  };
}

function agitator(profile: MachineProfile, motor: ClockRate): ClockRate {
  const input = profile.motorToAgitatorInput;
  if (input === null || motor.hz === null) return UNKNOWN;
  const reduction = profile.planetary?.reduction;
  const spread = motor.spread + spanSpread(input) + (reduction ? spanSpread(reduction) : 0);
  const turns = input.typical * (reduction?.typical ?? 1);
  return { hz: motor.hz / turns, perDrumTurn: null, spread };
}

/**
 * Rates of all clocks of a machine in a running state.
 *
 * A speed told is used as it is. The other one follows from the drive ratio when that is narrow
 * (within 10 % between makes; exactly 1 on direct drive), and stays null when it is wide. Clocks that
 * stand in this phase have no rate.
 */
export function clockRates(
  profile: MachineProfile,
  state: RunningState,
  running: Running,
): ClockRates {
  const tied = running.drum && running.motor;
  // With the drum held or let go its ratio to the motor says nothing.
  const told = tied
    ? drumAndMotor(profile, state)
    : {
        drum: known(state.drumRpm)
          ? { hz: rpmToHz(state.drumRpm), perDrumTurn: 1, spread: 0 }
          : UNKNOWN,
        motor: known(state.motorRpm)
          ? { hz: rpmToHz(state.motorRpm), perDrumTurn: null, spread: 0 }
          : UNKNOWN,
      };
  const motor = running.motor ? told.motor : UNKNOWN;
  return {
    drum: running.drum ? told.drum : UNKNOWN,
    motor,
    agitator: running.gears ? agitator(profile, motor) : UNKNOWN,
    mains: { hz: state.lineHz, perDrumTurn: null, spread: 0 },
    fixed: { hz: 1, perDrumTurn: null, spread: 0 },
  };
}
