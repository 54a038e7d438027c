import { BANDS, SOUND_RATE_HZ, type ListeningContext } from "../../src/evidence/context.js";
import type { RecordingQuality } from "../../src/recording/recording.js";
import { turnClock } from "../../src/signal/angular.js";
import { bandEnvelopes, type BandEnvelope } from "../../src/signal/band-envelope.js";
import type { Movement, SpeedEstimate } from "../../src/speed/speed-estimate.js";

export interface ContextOptions {
  /** Drum speed in turns per second at a time; null where it cannot be told. */
  readonly drumHz?: ((seconds: number) => number | null) | number;
  readonly motorToDrum?: number;
  readonly lineHz?: 50 | 60;
  readonly movement?: Movement;
  readonly relativeError?: number;
  readonly bandHz?: readonly [number, number];
  readonly quality?: Partial<RecordingQuality>;
  /** Usable stretches in seconds; the whole clip when not told. */
  readonly usable?: readonly (readonly [number, number])[];
  readonly notes?: SpeedEstimate["notes"];
}

const HOP_SECONDS = 0.25;

function speedOf(seconds: number, options: ContextOptions): SpeedEstimate {
  const { drumHz, motorToDrum, relativeError = 0.001 } = options;
  const at = (time: number): number | null =>
    drumHz === undefined ? null : typeof drumHz === "number" ? drumHz : drumHz(time);
  const track = Array.from({ length: Math.floor(seconds / HOP_SECONDS) + 1 }, (_, i) => {
    const hz = at(i * HOP_SECONDS);
    return { timeSeconds: i * HOP_SECONDS, drumRpm: hz === null ? null : 60 * hz };
  });
  const known = track.flatMap(({ drumRpm }) => (drumRpm ? [drumRpm] : [])).sort((a, b) => a - b);
  const typical = known[known.length >> 1];
  const around = (value: number): { value: number; low: number; high: number } => ({
    value,
    low: value * (1 - 2 * relativeError),
    high: value * (1 + 2 * relativeError),
  });
  return {
    drumRpm: typical === undefined ? null : around(typical),
    motorRpm:
      typical === undefined || motorToDrum === undefined ? null : around(typical * motorToDrum),
    motorToDrum: motorToDrum === undefined ? null : around(motorToDrum),
    lineHz: options.lineHz ?? null,
    lineCombDb: options.lineHz ? 12 : null,
    track,
    hopSeconds: HOP_SECONDS,
    movement: options.movement ?? (typical === undefined ? "unknown" : "steady"),
    spanRpm: typical === undefined ? null : [known[0]!, known[known.length - 1]!],
    relativeError,
    notes: [],
    alternative: null,
    ...(options.notes ? { notes: options.notes } : {}),
  };
}

/** A listening context made by hand, with the speed told rather than estimated. */
export function makeContext(sound: Float64Array, options: ContextOptions = {}): ListeningContext {
  const seconds = sound.length / SOUND_RATE_HZ;
  const maskHopSeconds = 0.01;
  const usable = options.usable ?? [[0, seconds]];
  const usableMask = new Uint8Array(Math.ceil(seconds / maskHopSeconds));
  for (const [start, end] of usable) {
    usableMask.fill(1, Math.round(start / maskHopSeconds), Math.round(end / maskHopSeconds));
  }
  const speed = speedOf(seconds, options);
  const drumHz = options.drumHz;
  const clockRateHz = 100;
  const clock =
    drumHz === undefined
      ? null
      : turnClock(
          Float64Array.from({ length: Math.ceil(seconds * clockRateHz) + 1 }, (_, i) =>
            typeof drumHz === "number" ? drumHz : (drumHz(i / clockRateHz) ?? 0),
          ),
          clockRateHz,
        );
  const names = Object.keys(BANDS) as (keyof typeof BANDS)[];
  let envelopes: BandEnvelope[] | null = null;
  const washer = { id: "test", label: "test washer", profiles: [] };
  return {
    recording: {
      samples: Float32Array.from(sound),
      sampleRateHz: SOUND_RATE_HZ,
      durationSeconds: seconds,
      channels: 1,
      codec: "none",
      bandHz: options.bandHz ?? [60, 7400],
      problems: [],
      usable: usable.map(([startSeconds, endSeconds]) => ({ startSeconds, endSeconds })),
      quality: {
        clippedShare: 0,
        gainPumping: false,
        noiseSuppressed: false,
        speechShare: 0,
        silentShare: 0,
        voiceCodec: false,
        ...options.quality,
      },
    },
    sound,
    soundRateHz: SOUND_RATE_HZ,
    usableMask,
    maskHopSeconds,
    speed,
    drumClock: clock,
    washer,
    profiles: washer.profiles,
    expectedLines: [],
    toldPhase: "unknown",
    envelope: (band) => {
      envelopes ??= bandEnvelopes(
        sound,
        SOUND_RATE_HZ,
        names.map((name) => BANDS[name]),
      );
      return envelopes[names.indexOf(band)]!;
    },
  };
}
