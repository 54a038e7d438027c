import { expectedLines } from "../machine/expected-lines.js";
import type { Washer } from "../machine/profile.js";
import type { Phase } from "../machine/words.js";
import type { Interval, Recording } from "../recording/recording.js";
import { turnClock, type TurnClock } from "../signal/angular.js";
import {
  envelopeOfBand,
  wholeSpectrum,
  type BandEnvelope,
  type WholeSpectrum,
} from "../signal/band-envelope.js";
import { resample } from "../signal/resample.js";
import type { Estimate, SpeedEstimate, SpeedPoint } from "../speed/speed-estimate.js";
import { BANDS, SOUND_RATE_HZ, type BandName, type ListeningContext } from "./context.js";

/** Longest stretch that is listened to: what one forward FFT of 2^22 samples holds. */
const LONGEST_SECONDS = 240;
const MASK_HOP_SECONDS = 0.01;
const CLOCK_RATE_HZ = 100;
// A speed that is lost for less than this is read on from its neighbours; beyond, the drum may have stopped.
const BRIDGED_GAP_SECONDS = 1.5;

// Speeds that no washer reaches have no expected lines.
const HIGHEST_DRUM_RPM = 3000;
const HIGHEST_MOTOR_RPM = 40_000;

const within = (speed: Estimate | null, highestRpm: number): number | null =>
  speed !== null && speed.value > 0 && speed.value <= highestRpm ? speed.value : null;

/** Start of the loudest stretch of the given length, in whole seconds. */
function loudestStart(recording: Recording, stretchSeconds: number): number {
  const { samples, sampleRateHz } = recording;
  const seconds = Math.floor(samples.length / sampleRateHz);
  const energy = new Float64Array(seconds + 1);
  for (let s = 0; s < seconds; s++) {
    let sum = 0;
    for (let i = s * sampleRateHz; i < (s + 1) * sampleRateHz; i++) sum += samples[i]! ** 2;
    energy[s + 1] = energy[s]! + sum;
  }
  let best = 0;
  for (let s = 0; s + stretchSeconds <= seconds; s++) {
    const gain =
      energy[s + stretchSeconds]! - energy[s]! - energy[best + stretchSeconds]! + energy[best]!;
    if (gain > 0) best = s;
  }
  return best;
}

/** Intervals counted from `by` on and cut to a stretch of `length` seconds. */
export const shiftIntervals = (
  intervals: readonly Interval[],
  by: number,
  length: number,
): Interval[] =>
  intervals
    .map(({ startSeconds, endSeconds }) => ({
      startSeconds: Math.max(0, startSeconds - by),
      endSeconds: Math.min(length, endSeconds - by),
    }))
    .filter(({ startSeconds, endSeconds }) => endSeconds > startSeconds);

function cutTrack(
  { track, motorAloneRpm }: SpeedEstimate,
  start: number,
): Pick<SpeedEstimate, "track" | "motorAloneRpm"> {
  const inside = ({ timeSeconds }: SpeedPoint): boolean =>
    timeSeconds >= start && timeSeconds <= start + LONGEST_SECONDS;
  const cut = track
    .filter(inside)
    .map((point) => ({ ...point, timeSeconds: point.timeSeconds - start }));
  if (motorAloneRpm === undefined) return { track: cut };
  return { track: cut, motorAloneRpm: motorAloneRpm.filter((_, i) => inside(track[i]!)) };
}

/** Cuts recording and speed to the same stretch, so that both count time from its start. */
function cropToLoudest(
  recording: Recording,
  speed: SpeedEstimate,
): { recording: Recording; speed: SpeedEstimate } {
  if (recording.durationSeconds <= LONGEST_SECONDS) return { recording, speed };
  const start = loudestStart(recording, LONGEST_SECONDS);
  const { sampleRateHz } = recording;
  const first = start * sampleRateHz;
  return {
    recording: {
      ...recording,
      samples: recording.samples.subarray(first, first + LONGEST_SECONDS * sampleRateHz),
      durationSeconds: LONGEST_SECONDS,
      usable: shiftIntervals(recording.usable, start, LONGEST_SECONDS),
    },
    speed: {
      ...speed,
      ...cutTrack(speed, start),
    },
  };
}

function maskOf(usable: readonly Interval[], durationSeconds: number): Uint8Array {
  const mask = new Uint8Array(Math.ceil(durationSeconds / MASK_HOP_SECONDS));
  for (const { startSeconds, endSeconds } of usable) {
    mask.fill(
      1,
      Math.round(startSeconds / MASK_HOP_SECONDS),
      Math.round(endSeconds / MASK_HOP_SECONDS),
    );
  }
  return mask;
}

interface SpeedAt {
  readonly timeSeconds: number;
  readonly hz: number;
}

const clockGrid = (durationSeconds: number): Float64Array =>
  new Float64Array(Math.ceil(durationSeconds * CLOCK_RATE_HZ) + 1);

/**
 * Turns of a shaft over the clip on a 100 Hz grid, from points of its speed.
 *
 * Between points the speed is interpolated linearly, also over gaps of up to 1.5 s and out to the clip's
 * ends over as much; over longer gaps the clock stands still, so that angular resampling passes over them.
 */
function clockAlong(
  points: readonly SpeedAt[],
  hopSeconds: number,
  durationSeconds: number,
): TurnClock {
  const speedHz = clockGrid(durationSeconds);
  const bridge = Math.max(BRIDGED_GAP_SECONDS, 1.5 * hopSeconds);
  let next = 0;
  for (let i = 0; i < speedHz.length; i++) {
    const seconds = i / CLOCK_RATE_HZ;
    while (next < points.length && points[next]!.timeSeconds <= seconds) next++;
    const before = points[next - 1];
    const after = points[next];
    if (before && after) {
      const gap = after.timeSeconds - before.timeSeconds;
      const share = (seconds - before.timeSeconds) / gap;
      if (gap <= bridge) speedHz[i] = before.hz + share * (after.hz - before.hz);
    } else {
      const only = (before ?? after)!;
      if (Math.abs(seconds - only.timeSeconds) <= bridge) speedHz[i] = only.hz;
    }
  }
  return turnClock(speedHz, CLOCK_RATE_HZ);
}

/**
 * Turns of the drum over the clip, from the speed track. When the track is empty but a typical speed is known
 * (a told one), the clock runs at that speed throughout. Null when there is neither.
 */
export function drumClockOf(speed: SpeedEstimate, durationSeconds: number): TurnClock | null {
  const points = speed.track.flatMap(({ timeSeconds, drumRpm }) =>
    drumRpm === null ? [] : [{ timeSeconds, hz: drumRpm / 60 }],
  );
  if (points.length > 0) return clockAlong(points, speed.hopSeconds, durationSeconds);
  if (speed.drumRpm === null) return null;
  return turnClock(clockGrid(durationSeconds).fill(speed.drumRpm.value / 60), CLOCK_RATE_HZ);
}

/** Turns of a motor that is heard without its drum. */
function motorClockOf(speed: SpeedEstimate, durationSeconds: number): TurnClock | null {
  const { motorAloneRpm, track, hopSeconds } = speed;
  if (motorAloneRpm === undefined) return null;
  const points = track.map(({ timeSeconds }, i) => ({ timeSeconds, hz: motorAloneRpm[i]! / 60 }));
  return clockAlong(points, hopSeconds, durationSeconds);
}

/** Envelopes of the fixed bands, each worked out on first use from one shared transform. */
function lazyEnvelopes(sound: Float64Array): (band: BandName) => BandEnvelope {
  let spectrum: WholeSpectrum | null = null;
  const known = new Map<BandName, BandEnvelope>();
  return (band) => {
    const found = known.get(band);
    if (found) return found;
    spectrum ??= wholeSpectrum(sound, SOUND_RATE_HZ);
    const made = envelopeOfBand(spectrum, BANDS[band]);
    known.set(band, made);
    return made;
  };
}

/**
 * Prepares one recording for all observers: sound at 16 kHz, band envelopes on demand, usable
 * stretches, the drum's clock and the lines to look for.
 *
 * Of a recording longer than 240 s only the loudest 240 s are kept; `recording` and `speed` in the
 * result are cut to that stretch and count time from its start.
 *
 * @param wholeSound the recording at 16 kHz, when the caller has resampled it already
 */
export function listen(
  recording: Recording,
  washer: Washer,
  speed: SpeedEstimate,
  toldPhase: Phase,
  wholeSound?: Float64Array,
): ListeningContext {
  const cut = cropToLoudest(recording, speed);
  const sound =
    wholeSound && cut.recording === recording
      ? wholeSound
      : resample(cut.recording.samples, cut.recording.sampleRateHz, SOUND_RATE_HZ);
  const seconds = sound.length / SOUND_RATE_HZ;
  const motorClock = motorClockOf(cut.speed, seconds);
  return {
    recording: cut.recording,
    sound,
    soundRateHz: SOUND_RATE_HZ,
    usableMask: maskOf(cut.recording.usable, seconds),
    maskHopSeconds: MASK_HOP_SECONDS,
    speed: cut.speed,
    drumClock: drumClockOf(cut.speed, seconds),
    ...(motorClock === null ? {} : { motorClock }),
    washer,
    profiles: washer.profiles,
    expectedLines: expectedLines(washer, {
      drumRpm: within(cut.speed.drumRpm, HIGHEST_DRUM_RPM),
      motorRpm: within(cut.speed.motorRpm, HIGHEST_MOTOR_RPM),
      lineHz: cut.speed.lineHz,
      phase: toldPhase,
    }),
    toldPhase,
    envelope: lazyEnvelopes(sound),
  };
}
