import type { Random } from "../../foundation/random.js";
import type { DrawnWasher } from "../washer/drawn-washer.js";

/** What the clip must show so that its fault can be heard. */
export type Need = "run-up" | "to-rest" | "brake" | "late-start" | "pump";

/** Everything a programme is drawn from. */
export interface ProgrammeWish {
  readonly washer: DrawnWasher;
  readonly random: Random;
  readonly sampleCount: number;
  readonly needs: readonly Need[];
  /** Highest drum speed asked for, rpm; null to draw one. */
  readonly drumRpm: number | null;
  readonly lineHz: number;
}

/** Full speed of the wash motor on the mains with its slip, turns per second. */
export const inductionHz = ({ washer, lineHz }: ProgrammeWish): number =>
  ((2 * lineHz) / washer.poles) * (1 - washer.inductionSlip);
