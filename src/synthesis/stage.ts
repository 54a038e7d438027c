import type { Random } from "../foundation/random.js";
import type { Character, Phase } from "../machine/words.js";
import type { Motion } from "./motion/motion.js";
import type { DrawnWasher } from "./washer/drawn-washer.js";

/** What every source of sound is given. */
export interface Stage {
  readonly random: Random;
  readonly motion: Motion;
  readonly washer: DrawnWasher;
  readonly phase: Phase;
  /** Actual mains frequency: the nominal one with its small deviation. */
  readonly lineHz: number;
  readonly sampleCount: number;
}

/** Which way a sound takes out of the cabinet; each clip draws one path for each. */
export type PathName = "drum" | "motor" | "pump" | "cabinet" | "open";

/** A sound of a machine in order. */
export interface BackgroundSound {
  readonly path: PathName;
  /** Level against the other background sounds, dB. */
  readonly levelDb: number;
  /** Shape [sampleCount]. */
  readonly samples: Float64Array;
}

/** A faulty part's sound before its path. */
export interface FaultSound {
  /** Which form of the fault it is, in a few words. */
  readonly variant: string;
  /** What a technician would call the noise. */
  readonly character: Character;
  /** Main band of the structure that carries it, which shapes its path. */
  readonly carriedHz: readonly [low: number, high: number];
  /** Shape [sampleCount]. */
  readonly samples: Float64Array;
}

export type FaultSource = (stage: Stage) => FaultSound;
