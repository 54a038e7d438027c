import { FRAME_SECONDS } from "./frame-times.js";
import type { Movement } from "./speed-estimate.js";

const STEADY_SHARE = 0.04;

/** How a track of drum speeds (null where none is heard) moves over the clip. */
export function movementOf(drumHz: readonly (number | null)[]): Movement {
  const heard = drumHz.filter((hz): hz is number => hz !== null);
  if (heard.length < 3) return "unknown";
  const first = drumHz.findIndex((hz) => hz !== null);
  const last = drumHz.findLastIndex((hz) => hz !== null);
  if (heard.length < 0.7 * (last - first + 1)) return "stop-and-go";
  const range = Math.log(Math.max(...heard) / Math.min(...heard));
  if (range < STEADY_SHARE) return "steady";
  const net = Math.log(heard.at(-1)! / heard[0]!);
  if (Math.abs(net) < 0.5 * range) return range < 2 * STEADY_SHARE ? "steady" : "unknown";
  return net > 0 ? "rising" : "falling";
}

// With the power off a drum stops within some two minutes. Nepers a second.
const LEAST_FALL = 0.005;

/** Whether a track (null where nothing is heard) falls as a drum's does with the power off. */
export function runsDown(drumHz: readonly (number | null)[]): boolean {
  const first = drumHz.findIndex((hz) => hz !== null);
  const last = drumHz.findLastIndex((hz) => hz !== null);
  if (first < 0) return false;
  const fall = Math.log(drumHz[first]! / drumHz[last]!);
  return fall >= LEAST_FALL * (last - first) * FRAME_SECONDS;
}

/**
 * True when the sound comes and goes as agitation or tumbling with pauses does: at least three changes
 * between loud and quiet, 6 dB apart, each state lasting 0.3 s or more.
 */
export function soundComesAndGoes(sound: Float64Array, rateHz: number): boolean {
  const block = Math.round(0.1 * rateHz);
  const levels: number[] = [];
  for (let start = 0; start + block <= sound.length; start += block) {
    let sum = 1e-14;
    for (let i = start + 1; i < start + block; i++) sum += (sound[i]! - sound[i - 1]!) ** 2;
    levels.push(10 * Math.log10(sum / block));
  }
  const sorted = [...levels].sort((a, b) => a - b);
  const low = sorted[Math.floor(0.1 * sorted.length)] ?? 0;
  const high = sorted[Math.floor(0.9 * sorted.length)] ?? 0;
  if (high - low < 6) return false;
  let loud = levels[0]! > (low + high) / 2;
  let changes = 0;
  let run = 0;
  for (const level of levels) {
    const other = loud ? level < low + 0.35 * (high - low) : level > low + 0.65 * (high - low);
    run = other ? run + 1 : 0;
    if (run >= 3) {
      loud = !loud;
      changes++;
      run = 0;
    }
  }
  return changes >= 3;
}

/** Frames that a reading holds for: smoothed evidence above a floor of 0.8 or a third of the better half, gaps up to 3 s closed. */
export function trustedFrames(evidence: Float64Array, usable: Uint8Array): Uint8Array {
  const n = evidence.length;
  const out = new Uint8Array(n);
  // A faint reading is as good as its better half.
  const better = [...evidence].sort((a, b) => b - a).slice(0, Math.ceil(n / 2));
  const floor = Math.min(0.8, 0.35 * (better.reduce((sum, v) => sum + v, 0) / better.length));
  for (let i = 0; i < n; i++) {
    let sum = 0;
    let count = 0;
    for (let j = Math.max(0, i - 2); j <= Math.min(n - 1, i + 2); j++) {
      sum += evidence[j]!;
      count++;
    }
    if (sum / count > floor && usable[i]) out[i] = 1;
  }
  let last = -1;
  for (let i = 0; i < n; i++) {
    if (!out[i]) continue;
    if (last >= 0 && (i - last) * FRAME_SECONDS <= 3) out.fill(1, last, i);
    last = i;
  }
  return out;
}
