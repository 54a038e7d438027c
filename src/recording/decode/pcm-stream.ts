import type { Hertz, Seconds } from "../../foundation/units.js";
import type { RecordingProblem } from "../recording.js";

/** Samples of one stretch, shape [channelCount][n], full scale ±1. Valid until the next one is asked for. */
export type PcmBlock = readonly Float32Array[];

/** A recording that has been opened: what it is, and its samples block by block. */
export interface PcmStream {
  /** Container and codec in plain words, such as "m4a, AAC-LC". */
  readonly codec: string;
  /** Whether the codec throws sound away; a lossless one may pass full scale. */
  readonly lossy: boolean;
  readonly sampleRateHz: Hertz;
  readonly channelCount: number;
  /** Length the container claims, or null where it claims none. */
  readonly claimedSeconds: Seconds | null;
  /** A guess at the length where the container claims none; only memory is planned with it. */
  readonly roughSeconds?: Seconds;
  /** Names a format that this decoder reads in part only, so that a complete one may be asked first. */
  readonly partial?: string;
  /** What was noticed so far; more may come while the blocks are read. */
  readonly problems: readonly RecordingProblem[];
  /** Starts from the beginning each time it is called. */
  blocks(): AsyncGenerator<PcmBlock>;
}
