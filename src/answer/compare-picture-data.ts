import type { LineFamily, ModulationData, OrderData, SpectrogramData } from "./picture-data.js";
import type { SoundClip } from "./picture-data.js";

/** One thing before and after. */
export interface Pair<T> {
  readonly before: T;
  readonly after: T;
}

/** A third-octave band of both recordings, each over the middle of its own spectrum. */
export interface BandLevels {
  readonly midHz: number;
  readonly beforeDb: number;
  readonly afterDb: number;
}

/** How strongly one line beats. */
export interface LineState {
  /** Over its surroundings, dB. */
  readonly overDb: number;
  /** Null: not looked for. */
  readonly pAdjusted: number | null;
  readonly heard: boolean;
}

/** One line of a part before and after. */
export interface PairedLine extends Pair<LineState> {
  readonly family: LineFamily;
  readonly label: string;
  /** Where it was heard best, beats per drum turn or Hz. */
  readonly place: number;
}

/** Clips of both, in the same order: the recordings, then the band in which the noise is heard best. */
export interface PairedClips extends Pair<readonly SoundClip[]> {
  /** Why clips were left out or cut, one sentence each. */
  readonly notes: readonly string[];
}

/** Everything that is drawn or played of a comparison. Nothing of it depends on gain or distance. */
export interface ComparisonPictures {
  readonly spectrograms: Pair<SpectrogramData>;
  readonly bands: readonly BandLevels[];
  /** Band in which the noise before is heard best, Hz; null when there was no unusual noise. */
  readonly noiseBandHz: readonly [number, number] | null;
  /** Null unless the drum's speed is known in one at least. */
  readonly orders: Pair<OrderData> | null;
  /** The recording whose speed was not heard, so that its orders are drawn at the other's speed. */
  readonly speedTaken: keyof Pair<unknown> | null;
  /** Null when either recording does not carry it. */
  readonly modulation: Pair<ModulationData> | null;
  /** Lines that were heard in either, those that changed most first; of the orders, else of the beats. */
  readonly lines: readonly PairedLine[];
  readonly clips: PairedClips;
}
