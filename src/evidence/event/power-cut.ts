import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import { decoyPValue } from "../../foundation/significance.js";
import { fitLine, mean, quantile } from "../../foundation/statistics.js";
import { measured, missing } from "../measurement.js";
import { loudnessTrack, TRACK_RATE_HZ } from "../stroke/loudness-track.js";
import { drumHzAt } from "./clicks.js";
import { studentTail } from "./tails.js";

const LEAST_DROP_DB = 3;
/** The drum must go on for this long after the drop, and not much slower at once ... */
const GOES_ON_SECONDS = 1.5;
const SLOWEST_SHARE = 0.5;
/** ... but slower: a drum that keeps its speed has its power. */
const FASTEST_SHARE = 0.98;

export interface PowerCut {
  readonly atSeconds: number;
  readonly dropDb: number;
  /** Chance of such a drop among the clip's other changes of level. */
  readonly p: number;
}

// Fall of the level from 0.6 s before each moment to 0.6 s after it, 0.1 s left out between.
function drops(levelDb: Float64Array): Float64Array {
  const sums = new Float64Array(levelDb.length + 1);
  for (let i = 0; i < levelDb.length; i++) sums[i + 1] = sums[i]! + levelDb[i]!;
  const wide = Math.round(0.6 * TRACK_RATE_HZ);
  const gap = Math.round(0.1 * TRACK_RATE_HZ);
  const out = new Float64Array(levelDb.length);
  for (let i = wide; i + wide + gap < levelDb.length; i++) {
    out[i] = (sums[i]! - sums[i - wide]! - sums[i + gap + wide]! + sums[i + gap]!) / wide;
  }
  return out;
}

function goesOn(context: ListeningContext, seconds: number): boolean {
  const before = drumHzAt(context, seconds - 0.5);
  const after = drumHzAt(context, seconds + GOES_ON_SECONDS);
  if (before === null || after === null || before <= 1) return false;
  return after > SLOWEST_SHARE * before && after < FASTEST_SHARE * before;
}

/** Steepest fall of the level from which on the drum runs out, turning still; null without one. */
export function findPowerCut(context: ListeningContext): PowerCut | null {
  const { levelDb } = loudnessTrack(context);
  const drop = drops(levelDb);
  let at = -1;
  for (let i = 0; i < drop.length; i++) {
    if (at >= 0 && drop[i]! <= drop[at]!) continue;
    if (goesOn(context, i / TRACK_RATE_HZ)) at = i;
  }
  if (at < 0) return null;
  // Other changes: the largest of each second, up or down, more than 1.5 s away.
  const others: number[] = [];
  for (let from = 0; from + TRACK_RATE_HZ <= drop.length; from += TRACK_RATE_HZ) {
    if (Math.abs(from + TRACK_RATE_HZ / 2 - at) < 2 * TRACK_RATE_HZ) continue;
    others.push(Math.max(...drop.subarray(from, from + TRACK_RATE_HZ).map(Math.abs)));
  }
  if (others.length < 5) return null;
  const p = drop[at]! < LEAST_DROP_DB ? 1 : decoyPValue(drop[at]!, others);
  return { atSeconds: at / TRACK_RATE_HZ, dropDb: drop[at]!, p: Math.min(1, p) };
}

const unpowered = (context: ListeningContext): boolean =>
  context.toldPhase === "coast" || context.toldPhase === "hand-spin";

const slows = (context: ListeningContext): boolean =>
  unpowered(context) ||
  context.speed.movement === "falling" ||
  (context.speed.spanRpm !== null && context.speed.spanRpm[1] > 1.25 * context.speed.spanRpm[0]);

/**
 * Noise of the drive: does the sound end at once while the drum goes on turning? p-value of the steepest
 * drop of 3 dB or more within 0.1 s during which the speed track goes on, against the clip's other
 * changes of level. Missing ("phase") unless the phase is told and the drum slows down in the clip or the
 * motor is off.
 */
export function noiseStopsWithPower(context: ListeningContext): Measurement {
  // Many things end a noise in a clip of which nothing is told: a lid, a door, the end of a programme.
  if (context.toldPhase === "unknown" || !slows(context)) return missing("phase");
  if (context.speed.drumRpm === null) return missing("speed");
  const cut = findPowerCut(context);
  if (!cut) return missing("short");
  const { gainPumping } = context.recording.quality;
  return measured(cut.p, gainPumping ? 0.5 : 0.85, {
    atSeconds: cut.atSeconds,
    dropDb: cut.dropDb,
  });
}

interface Fall {
  readonly logSpeed: number[];
  readonly levelDb: number[];
}

// Half-second means of level and speed while the drum slows, after a cut of the power if there is one.
function slowingPart(context: ListeningContext, from: number): Fall {
  const { levelDb, excluded } = loudnessTrack(context);
  const step = TRACK_RATE_HZ / 2;
  const fall: Fall = { logSpeed: [], levelDb: [] };
  for (let i = Math.ceil(from * TRACK_RATE_HZ); i + step <= levelDb.length; i += step) {
    const seconds = (i + step / 2) / TRACK_RATE_HZ;
    const now = drumHzAt(context, seconds);
    const later = drumHzAt(context, seconds + 1);
    if (now === null || later === null || later > 1.01 * now || excluded[i]) continue;
    fall.logSpeed.push(Math.log10(now));
    fall.levelDb.push(mean(levelDb.subarray(i, i + step)));
  }
  return fall;
}

// Levels half a second apart are not independent: the number of points is cut by their correlation.
function independentPoints(x: readonly number[], y: readonly number[]): number {
  const line = fitLine(x, y);
  const rest = y.map((v, i) => v - line.intercept - line.slope * x[i]!);
  let near = 0;
  let own = 1e-12;
  for (let i = 0; i < rest.length; i++) {
    own += rest[i]! ** 2;
    if (i > 0) near += rest[i]! * rest[i - 1]!;
  }
  const r = Math.max(0, Math.min(0.9, near / own));
  return (x.length * (1 - r)) / (1 + r);
}

/**
 * Noise of the drum: does the level fall with the speed while the drum runs down? One-sided p-value that
 * the slope of level on the logarithm of speed is above 0, after a cut of the power if one is heard.
 * Without a speed track, only in a told run-down, the fall of the level with time is taken at a third of
 * the trust. Phones that pump their gain cannot show it.
 */
export function noiseFallsWithDrum(context: ListeningContext): Measurement {
  if (!slows(context)) return missing("phase");
  if (context.recording.quality.gainPumping) return missing("gain-pumping");
  const cut = findPowerCut(context);
  const from = cut && cut.p < 0.05 ? cut.atSeconds + 0.3 : 0;
  const { logSpeed, levelDb } = slowingPart(context, from);
  const span = logSpeed.length < 2 ? 0 : quantile(logSpeed, 0.95) - quantile(logSpeed, 0.05);
  if (levelDb.length < 6) return unpowered(context) ? fallsWithTime(context) : missing("speed");
  if (span < 0.08) return missing("speed");
  const { slope, slopeError } = fitLine(logSpeed, levelDb);
  const points = independentPoints(logSpeed, levelDb);
  const error = slopeError * Math.sqrt(levelDb.length / Math.max(3, points));
  const p = studentTail(slope / (error + 1e-9), Math.max(2, points - 2));
  return measured(Math.max(1e-12, p), points / (points + 3), { slopeDbPerDecade: slope });
}

function fallsWithTime(context: ListeningContext): Measurement {
  const { levelDb } = loudnessTrack(context);
  const step = TRACK_RATE_HZ;
  const level: number[] = [];
  for (let i = 0; i + step <= levelDb.length; i += step)
    level.push(mean(levelDb.subarray(i, i + step)));
  if (level.length < 6) return missing("short");
  const time = level.map((_, i) => i);
  const { slope, slopeError } = fitLine(time, level);
  const points = independentPoints(time, level);
  const error = slopeError * Math.sqrt(level.length / Math.max(3, points));
  const p = studentTail(-slope / (error + 1e-9), Math.max(2, points - 2));
  return measured(Math.max(1e-12, p), 0.33, { slopeDbPerSecond: slope });
}
