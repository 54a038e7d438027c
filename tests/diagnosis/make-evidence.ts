import type { Evidence, Measurement } from "../../src/evidence/evidence.js";
import { FEATURES, type FeatureId } from "../../src/evidence/features.data.js";
import { PHASES, type Phase } from "../../src/machine/words.js";
import type { Recording } from "../../src/recording/recording.js";

/** Evidence with the numbers given; everything else is missing. */
export function makeEvidence(
  phase: Phase,
  values: Partial<Record<FeatureId, number>>,
  details: Partial<Record<FeatureId, Measurement["detail"]>> = {},
): Evidence {
  const features = Object.fromEntries(
    FEATURES.map(({ id }) => {
      const value = values[id];
      if (value === undefined) return [id, { value: null, quality: 0, missing: "no-events" }];
      return [id, { value, quality: 1, ...(details[id] ? { detail: details[id] } : {}) }];
    }),
  ) as Record<FeatureId, Measurement>;
  const scores = Object.fromEntries(PHASES.map((one) => [one, one === phase ? 1 : 0])) as Record<
    Phase,
    number
  >;
  return {
    phase: { label: phase, given: phase !== "unknown", scores },
    features,
    lines: [],
    tones: [],
    impacts: [],
  };
}

/** A clean 20 s recording whose samples nobody looks at. */
export const goodRecording: Recording = {
  samples: new Float32Array(0),
  sampleRateHz: 48_000,
  durationSeconds: 20,
  channels: 1,
  codec: "WAV, PCM 16 bit",
  bandHz: [60, 16_000],
  problems: [],
  usable: [{ startSeconds: 0, endSeconds: 20 }],
  quality: {
    clippedShare: 0,
    gainPumping: false,
    noiseSuppressed: false,
    speechShare: 0,
    silentShare: 0,
    voiceCodec: false,
  },
};

const machine = { "machine-likeness": 3 } as const;

/** Grinding: rough, irregular, broadband. */
export const grinding: Partial<Record<FeatureId, number>> = {
  ...machine,
  roughness: 0.6,
  "roughness-periodic": 0.1,
  "tone-share": 0.05,
  impulsiveness: 1,
  flatness: 0.8,
  "low-band-share": 0.3,
  "swing-low": 4,
  "swing-high": 4,
  "squeal-swing": 5,
  "squeal-prominence": 8,
  "mains-share": 0.05,
  "beat-high": 17,
  "beat-low": 12,
  "impulsiveness-low": 0.1,
  "tone-prominence": -8,
};

/** A smooth, steady machine. */
export const quiet: Partial<Record<FeatureId, number>> = {
  ...machine,
  roughness: 0.02,
  "tone-share": 0.15,
  "tone-prominence": -6,
  impulsiveness: 0.05,
  "impulsiveness-low": -0.1,
  "impulse-rate": 0.1,
  flatness: 0.6,
  "swing-low": 3.5,
  "swing-high": 3,
  "beat-low": 12,
  "beat-high": 11,
  "squeal-swing": 8,
  "squeal-prominence": 12,
  "mains-share": 0.2,
  "low-band-share": 0.6,
};

/** A dull blow once per drum turn. */
export const thumping: Partial<Record<FeatureId, number>> = {
  ...quiet,
  "turn-impact": 1e-6,
  "turn-modulation-p": 1e-5,
  "turn-impact-low": 6,
  "turn-impact-high": 0.5,
  "turn-impact-crest": 4,
  "impulsiveness-low": 2,
  "swing-low": 11,
  "beat-low": 19,
};
