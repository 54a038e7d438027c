import type { MachineProfile, Washer } from "../machine/profile.js";
import type { ExpectedLine } from "../machine/expected-line.js";
import type { Phase } from "../machine/words.js";
import type { Recording } from "../recording/recording.js";
import type { BandEnvelope } from "../signal/band-envelope.js";
import type { TurnClock } from "../signal/angular.js";
import type { SpeedEstimate } from "../speed/speed-estimate.js";

/** Sample rate of the sound that evidence is gathered from. */
export const SOUND_RATE_HZ = 16_000;

/** Everything a listener needs, computed once and shared by all observers. */
export interface ListeningContext {
  readonly recording: Recording;
  /** The recording at 16 kHz, shape [n]; bands beyond `recording.bandHz` hold nothing. */
  readonly sound: Float64Array;
  readonly soundRateHz: number;
  /** Shape [frames]: 1 where the stretch of `maskHopSeconds` is usable, 0 in speech, silence, handling. */
  readonly usableMask: Uint8Array;
  readonly maskHopSeconds: number;
  readonly speed: SpeedEstimate;
  /** Drum turns over time on a 100 Hz grid; null when no speed was found. */
  readonly drumClock: TurnClock | null;
  /** Motor turns over time on the same grid where the motor is heard and the drum is not; else absent. */
  readonly motorClock?: TurnClock;
  readonly washer: Washer;
  readonly profiles: readonly MachineProfile[];
  /** Lines to look for at the speeds found, in the phase told or guessed. */
  readonly expectedLines: readonly ExpectedLine[];
  /** Phase told by the user; "unknown" when not told. */
  readonly toldPhase: Phase;
  /** Squared envelopes of fixed bands, each computed on first use from one shared FFT. */
  readonly envelope: (band: BandName) => BandEnvelope;
}

/** Octaves that a phone carries, and the two wide bands of the character features. */
export const BANDS = {
  "low-blow": [60, 500],
  "octave-500": [500, 1000],
  "octave-1k": [1000, 2000],
  "octave-2k": [2000, 4000],
  "octave-4k": [4000, 7500],
  contact: [1000, 6000],
} as const satisfies Readonly<Record<string, readonly [number, number]>>;

export type BandName = keyof typeof BANDS;
