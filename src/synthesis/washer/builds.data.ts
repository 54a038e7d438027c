import type { MachineProfileId, Sourced } from "../../machine/words.js";

/** What the simulator needs to know of a kind of washer. Ranges are [low, high]. */
export interface Build extends Sourced {
  readonly machine: MachineProfileId;
  readonly axis: "vertical" | "horizontal";
  readonly belt: boolean;
  readonly motor:
    | "induction-mains"
    | "induction-inverter"
    | "universal"
    | "permanent-magnet-belt"
    | "permanent-magnet-direct";
  /** Motor turns per turn of the large pulley; null when there is none. */
  readonly motorToPulley: readonly [number, number] | null;
  readonly polePairs: readonly [number, number];
  readonly gears: "planetary" | "fixed" | "none";
  readonly spinRpm: readonly [number, number];
  readonly pumpOnWashMotor: boolean;
}

const note = {
  source: "ranges widened beyond what is usual, so that no rule can lean on a fixed ratio",
  provenance: "common practice",
} as const;

const topLoad = { axis: "vertical", pumpOnWashMotor: false, ...note } as const;
const frontLoad = {
  axis: "horizontal",
  gears: "none",
  pumpOnWashMotor: false,
  spinRpm: [380, 1650],
  ...note,
} as const;

export const BUILDS: readonly Build[] = [
  {
    ...topLoad,
    machine: "top-load-belt",
    belt: true,
    motor: "induction-mains",
    motorToPulley: [1.8, 3.3],
    polePairs: [2, 2],
    gears: "planetary",
    spinRpm: [450, 1050],
  },
  {
    ...topLoad,
    machine: "top-load-direct",
    belt: false,
    motor: "permanent-magnet-direct",
    motorToPulley: null,
    polePairs: [9, 30],
    gears: "none",
    spinRpm: [450, 1150],
  },
  {
    ...topLoad,
    machine: "top-load-direct-geared",
    belt: false,
    motor: "permanent-magnet-direct",
    motorToPulley: null,
    polePairs: [9, 30],
    gears: "planetary",
    spinRpm: [450, 1000],
  },
  {
    ...topLoad,
    machine: "top-load-coupled",
    belt: false,
    motor: "induction-mains",
    motorToPulley: null,
    polePairs: [2, 3],
    gears: "fixed",
    spinRpm: [430, 700],
    pumpOnWashMotor: true,
  },
  {
    ...topLoad,
    machine: "top-load-belt-reversing",
    belt: true,
    motor: "induction-mains",
    motorToPulley: [2, 3.6],
    polePairs: [2, 2],
    gears: "fixed",
    spinRpm: [430, 700],
    pumpOnWashMotor: true,
  },
  {
    ...frontLoad,
    machine: "front-load-belt-universal",
    belt: true,
    motor: "universal",
    motorToPulley: [7, 16],
    polePairs: [1, 1],
  },
  {
    ...frontLoad,
    machine: "front-load-belt-induction",
    belt: true,
    motor: "induction-inverter",
    motorToPulley: [7, 16],
    polePairs: [1, 2],
  },
  {
    ...frontLoad,
    machine: "front-load-belt-bldc",
    belt: true,
    motor: "permanent-magnet-belt",
    motorToPulley: [6.5, 15],
    polePairs: [2, 5],
  },
  {
    ...frontLoad,
    machine: "front-load-direct",
    belt: false,
    motor: "permanent-magnet-direct",
    motorToPulley: null,
    polePairs: [9, 30],
  },
];
