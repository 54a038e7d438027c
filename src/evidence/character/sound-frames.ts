import { spectrogram, type Spectrogram } from "../../signal/spectrum.js";
import type { ListeningContext } from "../context.js";

// The automatic gain of a phone settles in about a second (common practice, no source).
const SETTLING_SECONDS = 1;
const SHORT_LENGTH = 2048;
const LONG_LENGTH = 8192;

/** Power over time and frequency with the frames that may be trusted. */
export interface SoundFrames {
  readonly power: Spectrogram;
  /** Shape [frameCount]: 1 where the whole frame is usable. */
  readonly usable: Uint8Array;
  readonly frameSeconds: (frame: number) => number;
}

/** Share of usable time in a stretch, 0 to 1; the first second counts as unusable in clips over 6 s. */
export function usableShare(context: ListeningContext): (start: number, end: number) => number {
  const { usableMask, maskHopSeconds } = context;
  const total = new Uint32Array(usableMask.length + 1);
  const seconds = usableMask.length * maskHopSeconds;
  const settled = seconds > 6 ? Math.round(SETTLING_SECONDS / maskHopSeconds) : 0;
  for (let i = 0; i < usableMask.length; i++) {
    total[i + 1] = total[i]! + (i >= settled ? usableMask[i]! : 0);
  }
  // Between grid points it is interpolated: a turn at 1300 rpm is 4.6 steps of the mask long.
  const at = (time: number): number => {
    const place = Math.min(usableMask.length, Math.max(0, time / maskHopSeconds));
    const before = Math.floor(place);
    const step = (total[before + 1] ?? total[before]!) - total[before]!;
    return total[before]! + (place - before) * step;
  };
  return (start, end) =>
    end > start ? ((at(end) - at(start)) * maskHopSeconds) / (end - start) : 0;
}

function framesOf(context: ListeningContext, length: number): SoundFrames {
  const power = spectrogram(context.sound, context.soundRateHz, { length, hop: length / 2 });
  const share = usableShare(context);
  const half = power.halfWindowSeconds;
  const frameSeconds = (frame: number): number => frame * power.hopSeconds + half;
  const usable = Uint8Array.from(power.frames, (_, i) =>
    share(frameSeconds(i) - half, frameSeconds(i) + half) > 0.9 ? 1 : 0,
  );
  return { power, usable, frameSeconds };
}

/** Frames of 0.128 s every 0.064 s: bins of 7.8 Hz, for what starts and stops. */
export const shortFrames = (context: ListeningContext): SoundFrames =>
  framesOf(context, SHORT_LENGTH);

/** Frames of 0.512 s every 0.256 s: bins of 1.95 Hz, for tones. */
export const longFrames = (context: ListeningContext): SoundFrames =>
  framesOf(context, LONG_LENGTH);

/** Mean power spectrum of a group of neighbouring frames. */
export interface FrameGroup {
  readonly values: Float64Array;
  readonly binHz: number;
  readonly startSeconds: number;
  readonly endSeconds: number;
}

/** Mean spectra of `size` frames each, side by side; groups with under three usable quarters are left out. */
export function groupFrames(frames: SoundFrames, size: number): FrameGroup[] {
  const { power, usable } = frames;
  const groups: FrameGroup[] = [];
  for (let first = 0; first + size <= power.frames.length; first += size) {
    const chosen: Float64Array[] = [];
    for (let i = first; i < first + size; i++) if (usable[i]) chosen.push(power.frames[i]!);
    if (chosen.length < 0.75 * size) continue;
    const values = new Float64Array(chosen[0]!.length);
    for (const frame of chosen) for (let k = 0; k < values.length; k++) values[k]! += frame[k]!;
    for (let k = 0; k < values.length; k++) values[k]! /= chosen.length;
    groups.push({
      values,
      binHz: power.binHz,
      startSeconds: first * power.hopSeconds,
      endSeconds: (first + size - 1) * power.hopSeconds + 2 * power.halfWindowSeconds,
    });
  }
  return groups;
}

/** Sum of the bins from lowHz up to highHz. */
export function bandPower(group: FrameGroup, lowHz: number, highHz: number): number {
  const low = Math.max(1, Math.ceil(lowHz / group.binHz));
  const high = Math.min(group.values.length - 1, Math.floor(highHz / group.binHz));
  let sum = 0;
  for (let k = low; k <= high; k++) sum += group.values[k]!;
  return sum;
}
