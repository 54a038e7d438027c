import type { Hertz, Seconds } from "../foundation/units.js";

/** Why a recording, or a part of it, carries less than it should. */
export type ProblemCode =
  | "too-short"
  | "long"
  | "silent"
  | "clipped"
  | "gain-pumping"
  | "noise-suppressed"
  | "speech"
  | "handling"
  | "narrow-band"
  | "low-sample-rate"
  | "spliced"
  | "damaged"
  | "truncated"
  | "lossy-codec"
  | "channels-disagree";

export interface RecordingProblem {
  readonly code: ProblemCode;
  /** One sentence for a technician: what is wrong, and how to record so that it is not. */
  readonly message: string;
  /** `blocks`: no answer can be given; `limits`: some evidence is missing; `note`: told for the record. */
  readonly severity: "blocks" | "limits" | "note";
}

export interface Interval {
  readonly startSeconds: Seconds;
  readonly endSeconds: Seconds;
}

/** What a decoder hands over: one channel list of samples, and where they came from. */
export interface DecodedAudio {
  /** Shape [channelCount][n], full scale ±1. */
  readonly channels: readonly Float32Array[];
  readonly sampleRateHz: Hertz;
  /** Channels in the file (the decoder may keep fewer). */
  readonly channelCount: number;
  /** Container and codec in plain words, such as "m4a, AAC-LC". */
  readonly codec: string;
  /** Length of the whole file; `channels` may hold a stretch of it. */
  readonly fileSeconds: Seconds;
  readonly problems: readonly RecordingProblem[];
}

/** One recording, ready to be listened to: a single channel and a verdict on what it can show. */
export interface Recording {
  /** Shape [n], full scale ±1, the better channel or the sum of agreeing ones. */
  readonly samples: Float32Array;
  readonly sampleRateHz: Hertz;
  readonly durationSeconds: Seconds;
  readonly channels: number;
  readonly codec: string;
  /** The band in which the recording can show something; outside it evidence is missing, not zero. */
  readonly bandHz: readonly [low: Hertz, high: Hertz];
  readonly problems: readonly RecordingProblem[];
  /** Stretches free of silence, speech, handling and clipping-by-burst, in order, not overlapping. */
  readonly usable: readonly Interval[];
  /** Facts that decide which features may be trusted. */
  readonly quality: RecordingQuality;
}

export interface RecordingQuality {
  /** Share of samples in runs at the rail, 0 to 1. */
  readonly clippedShare: number;
  /** The phone turns its gain up and down: slow level changes mean nothing. */
  readonly gainPumping: boolean;
  /** Steady sound is being removed by the phone: absence of broadband noise means nothing. */
  readonly noiseSuppressed: boolean;
  /** Share of the clip in which someone speaks, 0 to 1. */
  readonly speechShare: number;
  /** Share of the clip without any machine sound, 0 to 1. */
  readonly silentShare: number;
  /** Speech codec (AMR, narrow or wide band) or another one that reshapes noise. */
  readonly voiceCodec: boolean;
}
