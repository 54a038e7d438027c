import type { Washer } from "../machine/profile.js";
import type { Phase } from "../machine/words.js";

/** What is known about a clip before its speed is looked for. */
export interface SpeedOptions {
  readonly washer: Washer;
  readonly phase: Phase;
  /** Drum speed that the machine is set to or shows, rpm: a strong hint, not gospel. */
  readonly toldDrumRpm?: number;
  readonly toldMotorRpm?: number;
  readonly toldLineHz?: 50 | 60;
  /** Band in which the recording carries sound. */
  readonly bandHz: readonly [low: number, high: number];
  /** Stretches that may be used; the whole clip when left out. */
  readonly usable?: readonly { readonly startSeconds: number; readonly endSeconds: number }[];
}
