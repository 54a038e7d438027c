import type { MachineProfile } from "./profile.js";
import type { Phase } from "./words.js";

/** Which parts of a machine move or are live in a phase. */
export interface Running {
  readonly drum: boolean;
  /** Wash motor turns, driven or dragged by the drum. */
  readonly motor: boolean;
  /** Wash motor is fed with current. */
  readonly powered: boolean;
  /** Reducer of a top loader meshes; locked in the spin, it turns as one lump. */
  readonly gears: boolean;
  /** Drain pump runs. */
  readonly pump: boolean;
  readonly valve: boolean;
  /** Load falls from lifter to lifter. */
  readonly tumbling: boolean;
}

const STILL: Running = {
  drum: false,
  motor: false,
  powered: false,
  gears: false,
  pump: false,
  valve: false,
  tumbling: false,
};

/**
 * What moves in a phase. `unknown` assumes everything that could be heard but the inlet valve.
 * Common practice, no source: the drum of a top loader is held in the wash; some older machines
 * drain with the wash motor; a coupling-driven motor is let go by its clutch once unpowered.
 */
export function whatRuns(profile: MachineProfile, phase: Phase): Running {
  const front = profile.axis === "horizontal";
  const dragged = profile.drive !== "coupling";
  const motorPumps = profile.pumpDrivenBy === "wash-motor";
  switch (phase) {
    case "fill":
      return { ...STILL, valve: true };
    case "wash":
      return {
        ...STILL,
        drum: front,
        motor: true,
        powered: true,
        gears: !front,
        tumbling: front,
      };
    case "drain":
      return { ...STILL, motor: motorPumps, powered: motorPumps, pump: true };
    case "spin":
      return { ...STILL, drum: true, motor: true, powered: true, pump: true };
    case "coast":
      return { ...STILL, drum: true, motor: dragged };
    case "hand-spin":
      return { ...STILL, drum: true, motor: dragged, tumbling: front };
    case "unknown":
      return {
        ...STILL,
        drum: true,
        motor: true,
        powered: true,
        pump: true,
        gears: !front,
        tumbling: front,
      };
  }
}
