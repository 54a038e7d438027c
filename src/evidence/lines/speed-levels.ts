import { clamp, fitLine } from "../../foundation/statistics.js";
import { turnsAt } from "../../signal/angular.js";
import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { carriedBands } from "./envelope-bands.js";

const STEP_SECONDS = 0.5;
const LEAST_SPEED_RATIO = 1.3;
const FEWEST_STEPS = 12;
/** Slower than this the drum is not spinning. */
const LEAST_HZ = 0.4;

/** Mean drum speed of each half second in Hz, 0 where it stands or is not known. */
export function speedSteps(context: ListeningContext, stepSeconds: number): Float64Array {
  const { drumClock, sound, soundRateHz } = context;
  const count = Math.floor(sound.length / soundRateHz / stepSeconds);
  const out = new Float64Array(count);
  if (drumClock === null) return out;
  for (let i = 0; i < count; i++) {
    const turns = turnsAt(drumClock, (i + 1) * stepSeconds) - turnsAt(drumClock, i * stepSeconds);
    out[i] = turns / stepSeconds;
  }
  return out;
}

/** Share of usable time in each step. */
export function usableSteps(
  context: ListeningContext,
  stepSeconds: number,
  count: number,
): Float64Array {
  const per = Math.max(1, Math.round(stepSeconds / context.maskHopSeconds));
  return Float64Array.from({ length: count }, (_, i) => {
    let sum = 0;
    for (let j = i * per; j < (i + 1) * per; j++) sum += context.usableMask[j] ?? 0;
    return sum / per;
  });
}

function bandLevels(context: ListeningContext, count: number): Float64Array | null {
  const bands = carriedBands(context, ["octave-500", "octave-1k", "octave-2k"]);
  if (bands.length === 0) return null;
  const power = new Float64Array(count);
  for (const name of bands) {
    const envelope = context.envelope(name);
    const per = STEP_SECONDS * envelope.sampleRateHz;
    for (let i = 0; i < count; i++) {
      const first = Math.round(i * per);
      const last = Math.min(envelope.power.length, Math.round((i + 1) * per));
      let sum = 0;
      for (let j = first; j < last; j++) sum += envelope.power[j]!;
      power[i]! += sum / Math.max(1, last - first);
    }
  }
  return power.map((p) => 10 * Math.log10(p + 1e-30));
}

/**
 * Slope of the 0.5-4 kHz level against the drum's speed, dB per tenfold speed, by least squares over half
 * seconds. Missing when the speed moves by less than a factor of 1.3, or when the phone turns its gain.
 */
export function levelSlope(context: ListeningContext): Measurement {
  const { gainPumping, noiseSuppressed } = context.recording.quality;
  if (context.drumClock === null) return missing("speed");
  if (gainPumping) return missing("gain-pumping");
  if (noiseSuppressed) return missing("noise-suppressed");
  const speed = speedSteps(context, STEP_SECONDS);
  const levels = bandLevels(context, speed.length);
  if (levels === null) return missing("band");
  const usable = usableSteps(context, STEP_SECONDS, speed.length);
  const x: number[] = [];
  const y: number[] = [];
  for (let i = 0; i < speed.length; i++) {
    if (speed[i]! < LEAST_HZ || usable[i]! < 0.9) continue;
    x.push(Math.log10(speed[i]!));
    y.push(levels[i]!);
  }
  if (x.length < FEWEST_STEPS) return missing("short");
  const span = Math.max(...x) - Math.min(...x);
  if (span < Math.log10(LEAST_SPEED_RATIO)) return missing("speed");
  const { slope, slopeError } = fitLine(x, y);
  // As good as the wider span and the smaller scatter make it: 10 dB per decade of error halves it.
  const trust = clamp(span / 0.3, 0.3, 1) / (1 + (slopeError / 10) ** 2);
  return measured(slope, trust, { error: slopeError, ratio: 10 ** span });
}
