import type { Component, MachineProfileId, Phase } from "../machine/words.js";
import type { PhoneDraw } from "./channel/phone.js";
import type { RoomDraw } from "./channel/room.js";
import type { OtherSoundKind } from "./other-sounds/kinds.js";

/** What clip to make. All that is not said is drawn from the seed. */
export interface ClipRequest {
  /** Whole number; the same request gives the same samples everywhere. */
  readonly seed: number;
  readonly machine: MachineProfileId;
  readonly phase: Phase;
  /** Faulty parts, most important first; empty for a machine in order. */
  readonly faults: readonly Component[];
  /** Length in seconds, 1 to 600. @defaultValue 15 */
  readonly durationSeconds?: number;
  /** Fault over background while it sounds, dB, broadband RMS. @defaultValue drawn from 0 to 12 */
  readonly faultToBackgroundDb?: number;
  readonly lineHz?: 50 | 60;
  /** Speed the drum goes for, rpm. */
  readonly drumRpm?: number;
  readonly phone?: Partial<PhoneDraw>;
  readonly room?: Partial<RoomDraw>;
  /** A sound that is no washer at all; `machine`, `phase` and `faults` are then not used. */
  readonly otherSound?: OtherSoundKind;
  /** Name of the sound file that the truth belongs to. @defaultValue "clip-<seed>.wav" */
  readonly file?: string;
}
