import type { BandName, ListeningContext } from "../../src/evidence/context.js";
import { BANDS } from "../../src/evidence/context.js";
import type { MachineProfile } from "../../src/machine/profile.js";
import type { Phase } from "../../src/machine/words.js";
import type { RecordingQuality } from "../../src/recording/recording.js";
import {
  envelopeOfBand,
  wholeSpectrum,
  type BandEnvelope,
  type WholeSpectrum,
} from "../../src/signal/band-envelope.js";
import { turnClock } from "../../src/signal/angular.js";
import type { Movement, SpeedEstimate } from "../../src/speed/speed-estimate.js";

/** What a hand-made context is told; everything else is that of a clean recording of unknown kind. */
export interface ContextFacts {
  /** Drum speed in rpm at a moment; null where it stands. Default: nothing is known of the speed. */
  readonly drumRpmAt?: (seconds: number) => number | null;
  readonly movement?: Movement;
  readonly lineHz?: 50 | 60 | null;
  readonly lineCombDb?: number | null;
  readonly phase?: Phase;
  readonly axis?: "vertical" | "horizontal";
  readonly bandHz?: readonly [number, number];
  readonly quality?: Partial<RecordingQuality>;
  /** Stretches in which someone speaks. */
  readonly masked?: readonly (readonly [from: number, to: number])[];
}

const RATE = 16_000;

function speedOf(seconds: number, facts: ContextFacts): SpeedEstimate {
  const hop = 0.25;
  const track = Array.from({ length: Math.floor(seconds / hop) + 1 }, (_, i) => ({
    timeSeconds: i * hop,
    drumRpm: facts.drumRpmAt?.(i * hop) ?? null,
  }));
  const known = track.flatMap((p) => (p.drumRpm === null ? [] : [p.drumRpm]));
  const typical = [...known].sort((a, b) => a - b)[known.length >> 1];
  return {
    drumRpm: typical === undefined ? null : { value: typical, low: typical, high: typical },
    motorRpm: null,
    motorToDrum: null,
    lineHz: facts.lineHz ?? null,
    lineCombDb: facts.lineCombDb ?? null,
    track,
    hopSeconds: hop,
    movement: facts.movement ?? "unknown",
    spanRpm: known.length > 0 ? [Math.min(...known), Math.max(...known)] : null,
    relativeError: 0.002,
    notes: [],
    alternative: null,
  };
}

/** A context around 16 kHz samples, as the listener would build it, without the rooms that do. */
export function contextOf(sound: Float64Array, facts: ContextFacts = {}): ListeningContext {
  const seconds = sound.length / RATE;
  const speed = speedOf(seconds, facts);
  const mask = new Uint8Array(Math.ceil(seconds * 100)).fill(1);
  for (const [from, to] of facts.masked ?? []) mask.fill(0, from * 100, to * 100);
  const envelopes = new Map<BandName, BandEnvelope>();
  let spectrum: WholeSpectrum | null = null;
  const profiles = facts.axis === undefined ? [] : [{ axis: facts.axis } as MachineProfile];
  const rpmAt = facts.drumRpmAt;
  return {
    recording: {
      samples: Float32Array.from(sound),
      sampleRateHz: RATE,
      durationSeconds: seconds,
      channels: 1,
      codec: "wav, PCM",
      bandHz: facts.bandHz ?? [60, 8000],
      problems: [],
      usable: [{ startSeconds: 0, endSeconds: seconds }],
      quality: {
        clippedShare: 0,
        gainPumping: false,
        noiseSuppressed: false,
        speechShare: 0,
        silentShare: 0,
        voiceCodec: false,
        ...facts.quality,
      },
    },
    sound,
    soundRateHz: RATE,
    usableMask: mask,
    maskHopSeconds: 0.01,
    speed,
    drumClock: rpmAt
      ? turnClock(
          Float64Array.from(
            { length: Math.ceil(seconds * 100) + 1 },
            (_, i) => (rpmAt(i / 100) ?? 0) / 60,
          ),
          100,
        )
      : null,
    washer: { id: "unknown", label: "washer", profiles },
    profiles,
    expectedLines: [],
    toldPhase: facts.phase ?? "unknown",
    envelope: (band) => {
      const known = envelopes.get(band);
      if (known) return known;
      spectrum ??= wholeSpectrum(sound, RATE);
      const made = envelopeOfBand(spectrum, BANDS[band]);
      envelopes.set(band, made);
      return made;
    },
  };
}
