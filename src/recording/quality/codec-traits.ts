import type { Hertz } from "../../foundation/units.js";

/** What the name of a codec says about the sound. */
export interface CodecTraits {
  /** Made for speech: it models a voice, and steady noise comes out reshaped. */
  readonly voice: boolean;
  /** Rebuilds the treble from the middle (HE-AAC). */
  readonly rebuildsTreble: boolean;
}

const VOICE =
  /\b(amr|samr|sawb|gsm|speex|evs|silk|ilbc|qcelp|evrc|g\.?72[2369]|codec2)\b|amr[-_ ]?(nb|wb)/;
const REBUILDS = /he-?aac|aac\+|\bsbr\b/;

/**
 * Reads a codec's name, in any case.
 *
 * Opus counts as a voice codec when its band ends at 8 kHz or below, where its speech layer works
 * (RFC 6716, section 2: narrow, medium and wide band are 4, 6 and 8 kHz).
 */
export function codecTraits(codec: string, bandTopHz: Hertz): CodecTraits {
  const name = codec.toLowerCase();
  return {
    voice: VOICE.test(name) || (name.includes("opus") && bandTopHz <= 8200),
    rebuildsTreble: REBUILDS.test(name),
  };
}
