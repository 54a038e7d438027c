import type { Sourced } from "../../machine/words.js";

/** One number that the verdict on a recording is made with. */
export interface QualityLimit extends Sourced {
  readonly value: number;
  readonly unit: "s" | "Hz" | "dB" | "share" | "count" | "ratio";
}

const HANDBOOK = "common practice in recording, no source";

/** Numbers of the verdict that a technician or developer may want to argue about. */
export const QUALITY_LIMITS = {
  blockingSeconds: {
    value: 2,
    unit: "s",
    source: "common practice, no source: character features need two seconds of good sound",
    provenance: "common practice",
  },
  wishedSeconds: {
    value: 5,
    unit: "s",
    source: "common practice, no source: 3 to 5 s tell the phase, 10 s the plateau speed to 6 rpm",
    provenance: "common practice",
  },
  shortestPieceSeconds: {
    value: 0.5,
    unit: "s",
    source: "common practice, no source: one analysis block",
    provenance: "common practice",
  },
  clippedShareNote: {
    value: 1e-4,
    unit: "share",
    source: "common practice, no source: 0.01 % of the samples at the rail",
    provenance: "common practice",
  },
  clippedShareLimits: {
    value: 1e-3,
    unit: "share",
    source: "common practice, no source: beyond 0.1 % impulsiveness is not judged",
    provenance: "common practice",
  },
  cliffDropDb: {
    value: 25,
    unit: "dB",
    source: `${HANDBOOK}: a natural spectrum does not fall so far within 300 Hz and stay down`,
    provenance: "common practice",
  },
  lowSampleRateHz: {
    value: 16_000,
    unit: "Hz",
    source: "common practice, no source: below 16 kHz only pump and impacts can be judged",
    provenance: "common practice",
  },
  narrowBandHz: {
    value: 4000,
    unit: "Hz",
    source: "common practice, no source: brushes, squeal and hiss lie above 4 kHz",
    provenance: "common practice",
  },
  reducedBandHz: {
    value: 7000,
    unit: "Hz",
    source: "3GPP TS 26.171 (AMR-WB): audio band 50 to 7000 Hz",
    provenance: "published",
  },
  highPassNoteHz: {
    value: 200,
    unit: "Hz",
    source: "common practice, no source: voice paths of phones filter below about 200 Hz",
    provenance: "common practice",
  },
  synthesisedAboveHz: {
    value: 5000,
    unit: "Hz",
    source:
      "from memory: spectral band replication (ISO/IEC 14496-3) rebuilds the treble above a core of 5 to 8 kHz",
    provenance: "from memory",
  },
  silentLevelDb: {
    value: -85,
    unit: "dB",
    source:
      "computed: 13 dB over the -98 dBFS rounding noise of 16-bit samples (step 2^-15, variance step²/12)",
    provenance: "computed",
  },
  voicedLowHz: {
    value: 75,
    unit: "Hz",
    source: "from memory: speaking pitch of adults and children, 75 to 400 Hz",
    provenance: "from memory",
  },
  voicedHighHz: {
    value: 400,
    unit: "Hz",
    source: "from memory: speaking pitch of adults and children, 75 to 400 Hz",
    provenance: "from memory",
  },
} as const satisfies Record<string, QualityLimit>;
