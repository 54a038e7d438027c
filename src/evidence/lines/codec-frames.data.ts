import type { Sourced } from "../../machine/words.js";

/** How often a codec changes its settings: a rate that its own noise is modulated at. */
export interface CodecFrameRow extends Sourced {
  /** Word found in the recording's codec text, in lower case. */
  readonly word: string;
  /** Frame length in samples at the file's rate, or null when it is a fixed time. */
  readonly frameSamples: number | null;
  /** Frames per second when the frame is a fixed time, or null. */
  readonly frameHz: number | null;
}

export const CODEC_FRAMES: readonly CodecFrameRow[] = [
  {
    word: "aac",
    frameSamples: 1024,
    frameHz: null,
    source: "ISO/IEC 14496-3: AAC-LC frame of 1024 samples (43.07 Hz at 44.1 kHz, 46.88 at 48 kHz)",
    provenance: "from memory",
  },
  {
    word: "mp3",
    frameSamples: 576,
    frameHz: null,
    source: "ISO/IEC 11172-3: layer III granule of 576 samples",
    provenance: "from memory",
  },
  {
    word: "opus",
    frameSamples: null,
    frameHz: 50,
    source: "RFC 6716: default frame of 20 ms",
    provenance: "from memory",
  },
  {
    word: "amr",
    frameSamples: null,
    frameHz: 50,
    source: "3GPP TS 26.071 and 26.171: speech frame of 20 ms",
    provenance: "from memory",
  },
  {
    word: "evs",
    frameSamples: null,
    frameHz: 50,
    source: "3GPP TS 26.441: speech frame of 20 ms",
    provenance: "from memory",
  },
];
