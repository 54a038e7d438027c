import type { Exploration } from "./exploration.js";
import type { SpeedOptions } from "./speed-options.js";
import { FRAME_SECONDS } from "./frame-times.js";
import { longestPlateau } from "./judge-course.js";
import { movementOf, soundComesAndGoes, trustedFrames } from "./movement.js";
import type { Reading } from "./reading.js";
import type { Estimate, SpeedEstimate, SpeedNote } from "./speed-estimate.js";

const NORMAL_90 = 1.645;

/** Distance of the heights of a reading's modulation from what noise gives, deviations. */
export function turnStrength(reading: Reading): number {
  return Math.hypot(...reading.hearing.turnHeights.map((z) => Math.max(0, z - 1)));
}

const TURN_ALONE = 5.5;
const TURN_WITH_TONES = 3.2;

/** Whether a reading stands out from what noise, knocks, speech and music give. */
export function isHeard(reading: Reading): boolean {
  const { hearing } = reading;
  if (hearing.finerComb) return false;
  const strength = turnStrength(reading);
  const tones = hearing.toneCount >= 2 && hearing.toneShare >= 0.6;
  return strength >= TURN_ALONE || (tones && strength >= TURN_WITH_TONES && reading.odds > 6);
}

const around = (value: number, relativeError: number): Estimate => ({
  value,
  low: value * Math.exp(-NORMAL_90 * relativeError),
  high: value * Math.exp(NORMAL_90 * relativeError),
});

function typicalHz(track: readonly (number | null)[]): number {
  const heard = track.filter((hz): hz is number => hz !== null);
  const plateau = longestPlateau(Float64Array.from(heard, (hz) => Math.log(hz)));
  const part = plateau ? heard.slice(plateau[0], plateau[1]) : heard;
  return part.reduce((sum, hz) => sum + hz, 0) / part.length;
}

const baseOf = (found: Exploration) => ({
  lineHz: found.mains.lineHz,
  lineCombDb: found.mains.combDb,
  hopSeconds: FRAME_SECONDS,
});

/** The estimate that the best reading gives, or null when it is not heard well enough. */
export function speedFromReading(found: Exploration, options: SpeedOptions): SpeedEstimate | null {
  const reading = found.readings.find(isHeard);
  if (reading === undefined) return null;
  const { judged, drumHz, drumError, toneHz, source, evidence } = reading;
  const trusted = trustedFrames(evidence, found.judge.input.usable);
  const track = Array.from(judged.course, (value, i) =>
    trusted[i] ? drumHz * Math.exp(value) : null,
  );
  const heard = track.filter((hz): hz is number => hz !== null);
  if (heard.length < 4) return null;
  const typical = typicalHz(track);
  const notes: SpeedNote[] = [];
  const tonesCount = toneHz !== null && reading.hearing.toneCount > 0;
  if (!tonesCount) notes.push("only-modulation");
  const motorToDrum =
    source.motorPerTone !== 1
      ? around(1, 0)
      : tonesCount
        ? around((toneHz * source.motorPerTone) / drumHz, drumError)
        : null;
  const motor =
    source.motorPerTone !== 1
      ? around(60 * typical, drumError)
      : motorToDrum === null
        ? null
        : around(60 * typical * motorToDrum.value, 0.001);
  if (tonesCount && source.lowRatio !== source.highRatio) notes.push("ratio-estimated");
  if (options.toldDrumRpm !== undefined) {
    const off = Math.abs(Math.log((typical * 60) / options.toldDrumRpm));
    notes.push(off > 0.12 ? "told-speed-contradicted" : "told-speed-used");
  }
  return {
    ...baseOf(found),
    drumRpm: around(60 * typical, drumError),
    motorRpm: motor,
    motorToDrum,
    track: track.map((hz, i) => ({
      timeSeconds: (i + 0.5) * FRAME_SECONDS,
      drumRpm: hz === null ? null : 60 * hz,
    })),
    movement: movementOf(track),
    spanRpm: [60 * Math.min(...heard), 60 * Math.max(...heard)],
    relativeError: drumError,
    notes,
    alternative: null,
  };
}

/** The estimate when no speed is heard. */
export function speedUnheard(
  found: Exploration,
  sound: Float64Array,
  soundRateHz: number,
  options: SpeedOptions,
): SpeedEstimate {
  const still = options.phase === "drain" || options.phase === "fill";
  const goes = soundComesAndGoes(sound, soundRateHz);
  return {
    ...baseOf(found),
    drumRpm: null,
    motorRpm: null,
    motorToDrum: null,
    track: Array.from(found.judge.input.usable, (_, i) => ({
      timeSeconds: (i + 0.5) * FRAME_SECONDS,
      drumRpm: null,
    })),
    movement: still ? "still" : goes ? "stop-and-go" : "unknown",
    spanRpm: null,
    relativeError: 1,
    notes: ["no-speed-heard"],
    alternative: null,
  };
}
