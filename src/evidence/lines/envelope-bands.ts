import { BANDS, type BandName, type ListeningContext } from "../context.js";
import { codecFrameHz, type Shafts } from "./shafts.js";
import { logEnvelope, notchPair, type LogEnvelope, type Notch } from "./log-envelope.js";

/** Octaves in which modulation is looked for, low to high. */
export const MODULATION_BANDS = ["octave-500", "octave-1k", "octave-2k", "octave-4k"] as const;

// Below this share of an octave inside the recording's band its envelope is mostly the codec's doing.
const LEAST_BAND_SHARE = 0.7;

/** Those of the bands that the recording carries. */
export function carriedBands(context: ListeningContext, bands: readonly BandName[]): BandName[] {
  const [lowHz, highHz] = context.recording.bandHz;
  return bands.filter((name) => {
    const [low, high] = BANDS[name];
    const inside = Math.min(high, highHz, context.soundRateHz / 2) - Math.max(low, lowHz);
    return inside >= LEAST_BAND_SHARE * (high - low);
  });
}

/** Steady rates that are no news: multiples of the mains, and of the codec's frames. */
export function steadyRates(context: ListeningContext, topHz: number): number[] {
  const steps = [context.speed.lineHz, codecFrameHz(context)];
  return steps.flatMap((step) =>
    step === null || step <= 0
      ? []
      : Array.from({ length: Math.floor(topHz / step) }, (_, k) => (k + 1) * step),
  );
}

/** The mains wanders by a few hundredths of a hertz; its multiples by as many times more. */
export const steadyHalfWidthHz = (hz: number): number => 0.12 + 0.001 * hz;

const notchesOf = (rates: readonly number[]): Notch[] =>
  rates.map((hz) => ({ hz, halfHz: steadyHalfWidthHz(hz) }));

const known = new WeakMap<ListeningContext, Map<string, LogEnvelope>>();

/** The log envelope of a band, worked out once per context, rate and drift. */
function logEnvelopeOf(
  context: ListeningContext,
  name: BandName,
  rateHz: number,
  slowerSeconds: number,
): LogEnvelope {
  const made = known.get(context) ?? new Map<string, LogEnvelope>();
  known.set(context, made);
  const key = `${name} ${rateHz} ${slowerSeconds}`;
  const found = made.get(key);
  if (found !== undefined) return found;
  const mask = { usable: context.usableMask, hopSeconds: context.maskHopSeconds };
  const envelope = logEnvelope(context.envelope(name), mask, rateHz, slowerSeconds);
  made.set(key, envelope);
  return envelope;
}

/**
 * Log envelopes of the bands at a common rate, drift taken off, the mains comb and codec frames emptied
 * when wanted.
 */
export function bandLogEnvelopes(
  context: ListeningContext,
  bands: readonly BandName[],
  options: {
    readonly rateHz: number;
    readonly driftSeconds: number;
    readonly emptySteady: boolean;
  },
): LogEnvelope[] {
  const { rateHz, driftSeconds, emptySteady } = options;
  const logs = carriedBands(context, bands).map((name) =>
    logEnvelopeOf(context, name, rateHz, driftSeconds),
  );
  const notches = emptySteady ? notchesOf(steadyRates(context, rateHz / 2)) : [];
  const out: LogEnvelope[] = [];
  for (let i = 0; i < logs.length; i += 2) {
    const first = logs[i]!;
    const second = logs[i + 1] ?? first;
    const [a, b] = notchPair(first, second, notches);
    out.push(a, ...(i + 1 < logs.length ? [b] : []));
  }
  return out;
}

/** Drift slower than this is not modulation: three seconds, or six turns of a slow drum. */
export const driftSeconds = (shafts: Shafts | null): number =>
  shafts === null ? 3 : Math.max(3, 6 / shafts.typicalHz);
