import type { Component } from "../machine/words.js";

// What the pictures of a report are drawn from. Plain numbers: nothing here needs the sound again.

/** Whose line it is, as a reader of a picture sorts them. */
export const LINE_FAMILIES = [
  "drum",
  "bearing",
  "belt",
  "motor",
  "gear",
  "pump",
  "mains",
  "other",
] as const;
export type LineFamily = (typeof LINE_FAMILIES)[number];

/** A place on an axis (orders of the drum, or Hz) where a part would show, and whether it does. */
export interface LineMark {
  readonly family: LineFamily;
  readonly label: string;
  /** Where it was heard best within its window, and the window itself; unit of the axis. */
  readonly place: number;
  readonly low: number;
  readonly high: number;
  readonly hz: number;
  /** Stands out from this clip's own background (Holm-adjusted p below 0.05) and nothing else explains it. */
  readonly heard: boolean;
  /** Stands out when looked at alone (p below 0.05), not among all that was looked for. */
  readonly hint: boolean;
  /** Falls on a line of another part. */
  readonly confounded: boolean;
  /** Null: not looked for, its place is only a range. */
  readonly pAdjusted: number | null;
}

/** A line over time and frequency. */
export interface CourseMark {
  readonly family: LineFamily;
  readonly label: string;
  readonly heard: boolean;
  /** Evenly or unevenly spaced; a gap is a point with `hz` null. */
  readonly points: readonly { readonly seconds: number; readonly hz: number | null }[];
}

/** Level of the sound over time and pitch. */
export interface SpectrogramData {
  readonly columns: number;
  readonly rows: number;
  /** Shape [rows][columns], row 0 lowest, 0 (quiet) to `LEVEL_STEPS` - 1 (loud). */
  readonly steps: Uint8Array;
  /** Level of step 0 and of the last step, dB re full scale in one octave. */
  readonly quietDb: number;
  readonly loudDb: number;
  /** Edges of the frequency axis, which is logarithmic. */
  readonly lowHz: number;
  readonly highHz: number;
  readonly seconds: number;
  readonly drum: CourseMark | null;
  readonly lines: readonly CourseMark[];
  /** The same in figures: mean level of whole octaves in up to eight equal stretches of time, dB. */
  readonly octaves: readonly { readonly centreHz: number; readonly levelsDb: readonly number[] }[];
}

export const LEVEL_STEPS = 48;

/** A spectrum on an even axis. */
export interface Curve {
  /** Place of the first point and distance between points; unit of the axis. */
  readonly first: number;
  readonly step: number;
  /** Shape [n], dB over the surrounding background. */
  readonly overDb: Float64Array;
}

/** How strongly the sound beats, by beats per drum turn. */
export interface OrderData {
  readonly curve: Curve;
  readonly drumHz: number;
  readonly marks: readonly LineMark[];
}

/** How strongly one octave of the sound beats, by beats per second. */
export interface ModulationBand {
  readonly label: string;
  readonly lowHz: number;
  readonly highHz: number;
  /** Null when the recording does not carry the octave. */
  readonly curve: Curve | null;
}

export interface ModulationData {
  readonly bands: readonly ModulationBand[];
  readonly topHz: number;
  readonly marks: readonly LineMark[];
}

/** What the drum does in a stretch of the recording. */
export interface Stretch {
  readonly fromSeconds: number;
  readonly toSeconds: number;
  readonly state: "speeding up" | "steady" | "slowing down" | "speed not heard";
}

export interface LevelData {
  readonly hopSeconds: number;
  /** Levels of each hop, dB re full scale; the whole, below 500 Hz, above 2 kHz. */
  readonly wholeDb: Float64Array;
  readonly lowDb: Float64Array;
  readonly highDb: Float64Array;
  readonly seconds: number;
  /** Drum speed; null while none can be told. Empty without a track. */
  readonly speed: readonly { readonly seconds: number; readonly rpm: number | null }[];
  readonly stretches: readonly Stretch[];
  /** Stretches that could not be used: speech, silence, handling. */
  readonly unused: readonly { readonly fromSeconds: number; readonly toSeconds: number }[];
  /** Sharp single events, seconds. */
  readonly impacts: readonly number[];
}

/** A part's chance, and how far any one observation moves it. */
export interface RankingRow {
  readonly component: Component;
  readonly probability: number;
  /** Lowest and highest chance when any one observation is left out. */
  readonly low: number;
  readonly high: number;
}

/** A short stretch to listen to. */
export interface SoundClip {
  readonly id: "recording" | "band" | "rhythm";
  readonly title: string;
  /** What is heard in it, in one sentence. */
  readonly note: string;
  readonly fromSeconds: number;
  /** Shape [n], full scale ±1, brought to a common loudness. */
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
}

/** Everything that is drawn or played of one recording. */
export interface RecordingPictures {
  readonly spectrogram: SpectrogramData;
  readonly level: LevelData;
  /** Null without a drum speed, or with too few turns. */
  readonly orders: OrderData | null;
  readonly modulation: ModulationData | null;
  readonly clips: readonly SoundClip[];
  /** Why clips were left out or cut, one sentence each. */
  readonly clipNotes: readonly string[];
}

/** What a visit needs, told to the technician. */
export interface VisitFacts {
  /** Which end to open first, as a sentence. */
  readonly openFirst: string;
  /** Parts worth carrying on this suspicion. */
  readonly bring: readonly string[];
  readonly tools: readonly string[];
}

export interface Pictures {
  /** Null when no check is advised. */
  readonly visit: VisitFacts | null;
  readonly ranking: readonly RankingRow[];
  /** Index of the recording in which the noise is heard best. */
  readonly mainClip: number;
  /** One for each recording, in order. */
  readonly recordings: readonly RecordingPictures[];
}
