import { fitLine, quantile } from "../../foundation/statistics.js";
import type { ListeningContext } from "../context.js";
import type { SpeedEstimate } from "../../speed/speed-estimate.js";
import { pitchSpread, type Ridge, type RidgeMap } from "./ridges.js";
import type { SoundFrames } from "./sound-frames.js";

/** A ridge that may be a squeal, and how its pitch goes with the drum's speed. */
export interface Squeal {
  readonly ridge: Ridge;
  readonly startSeconds: number;
  readonly endSeconds: number;
  readonly pitchHz: number;
  /** d ln pitch / d ln speed while it sounds: 0 stands still, 1 follows; null when speed stands or is not known. */
  readonly followsSpeed: number | null;
  readonly spread: number;
}

/** Speeds must move by this share, and by ten times their error, before their law can be read. */
const LEAST_SPEED_SPAN = 0.02;
// Lines closer than this are a voice's harmonics or a motor's, not a squeal's.
const CLOSEST_HARMONICS_HZ = 280;
const LONGEST_SECONDS = 10;
/** A pitch that holds this well, in hertz or as a share, is not made by friction. */
const STILL_HZ = 1;
const STILL_SHARE = 0.001;
/** A still pitch that sounds for this share of the clip is an electric tone. */
const ELECTRIC_SHARE = 0.4;
/** Pieces of one tone lie this close together. */
const ALIKE_SHARE = 0.009;
const MAINS_REACH_HZ = 2.5;
const HIGHEST_MAINS_MULTIPLE = 40;

function speedExponent(
  { track: points, relativeError }: SpeedEstimate,
  ridge: Ridge,
  frameSeconds: (frame: number) => number,
): number | null {
  const logSpeed: number[] = [];
  const logPitch: number[] = [];
  let at = 0;
  for (const { frame, hz } of ridge.points) {
    const time = frameSeconds(frame);
    while (at + 1 < points.length && points[at + 1]!.timeSeconds <= time) at++;
    const a = points[at];
    const b = points[at + 1];
    if (!a?.drumRpm || !b?.drumRpm || time < a.timeSeconds) continue;
    const t = (time - a.timeSeconds) / (b.timeSeconds - a.timeSeconds);
    logSpeed.push(Math.log(a.drumRpm + t * (b.drumRpm - a.drumRpm)));
    logPitch.push(Math.log(hz));
  }
  if (logSpeed.length < 5) return null;
  const span = quantile(logSpeed, 0.95) - quantile(logSpeed, 0.05);
  if (span < Math.max(LEAST_SPEED_SPAN, 10 * relativeError)) return null;
  return fitLine(logSpeed, logPitch).slope;
}

/** Ridges that sound together with two others at a voice's spacing. */
function isVoiced(ridge: Ridge, byFrame: ReadonlyMap<number, readonly number[]>): boolean {
  const close = ridge.points.filter(
    ({ frame, hz }) =>
      (byFrame.get(frame) ?? []).filter(
        (other) => other !== hz && Math.abs(other - hz) < 2 * CLOSEST_HARMONICS_HZ,
      ).length >= 2,
  );
  return close.length > 0.4 * ridge.points.length;
}

const medianPitch = ({ points }: Ridge): number =>
  quantile(
    points.map(({ hz }) => hz),
    0.5,
  );

const isStill = (ridge: Ridge): boolean =>
  pitchSpread(ridge) < Math.max(STILL_SHARE, STILL_HZ / medianPitch(ridge));

/** Pitches on the mains comb: even multiples of both frequencies when the clip's own is not known. */
function isMains(context: ListeningContext, ridge: Ridge): boolean {
  const pitchHz = medianPitch(ridge);
  if (!isStill(ridge)) return false;
  const { lineHz } = context.speed;
  return (lineHz === null ? [100, 120] : [lineHz]).some((step) => {
    const multiple = Math.round(pitchHz / step);
    return (
      multiple <= HIGHEST_MAINS_MULTIPLE && Math.abs(pitchHz - multiple * step) < MAINS_REACH_HZ
    );
  });
}

/** Ridges that are pieces of one tone of crystal pitch, such as an inverter's or a steady motor's. */
function electricPieces(
  context: ListeningContext,
  ridges: readonly Ridge[],
  hop: number,
): Set<Ridge> {
  const still = ridges.filter(isStill).map((ridge) => ({ ridge, hz: medianPitch(ridge) }));
  const least = (ELECTRIC_SHARE * context.recording.durationSeconds) / hop;
  return new Set(
    still
      .filter(({ hz }) => {
        const alike = still.filter((other) => Math.abs(other.hz - hz) < ALIKE_SHARE * hz);
        return alike.reduce((sum, { ridge }) => sum + ridge.points.length, 0) > least;
      })
      .map(({ ridge }) => ridge),
  );
}

/** The motor is off for the whole clip, so that tones of the drive must fall with the drum. */
export const runsDown = ({ toldPhase }: ListeningContext): boolean => toldPhase === "coast";

/** Pitch spread under which a tone of a coasting machine stands still. */
const STANDS_SPREAD = 0.03;
const LEAST_HELD_SECONDS = 2;
const STANDS_EXPONENT = 0.35;

// What holds its pitch in a run-down is rubbing.
function isHeld(context: ListeningContext, squeal: Squeal): boolean {
  if (!runsDown(context)) return false;
  const { followsSpeed, spread, startSeconds, endSeconds } = squeal;
  if (followsSpeed !== null) return Math.abs(followsSpeed) < STANDS_EXPONENT;
  return spread < STANDS_SPREAD && endSeconds - startSeconds > LEAST_HELD_SECONDS;
}

/**
 * The ridges that start and stop as a squeal does: not a voice's stack of harmonics, not a tone that
 * follows the drum's speed, not one that lasts for over 10 s and half of the clip, not mains or an
 * electric tone of crystal pitch. In a run-down a tone that lasts counts all the same when it holds its
 * pitch.
 */
export function findSqueals(
  context: ListeningContext,
  frames: SoundFrames,
  map: RidgeMap,
): Squeal[] {
  const byFrame = new Map<number, number[]>();
  for (const { points } of map.ridges) {
    for (const { frame, hz } of points) byFrame.set(frame, [...(byFrame.get(frame) ?? []), hz]);
  }
  const half = frames.power.hopSeconds / 2;
  const longest = Math.max(LONGEST_SECONDS, 0.5 * context.recording.durationSeconds);
  const electric = electricPieces(context, map.ridges, frames.power.hopSeconds);
  const mayBe = (squeal: Squeal): boolean => {
    const { ridge, startSeconds, endSeconds, followsSpeed } = squeal;
    if (followsSpeed !== null && followsSpeed > 0.6 && followsSpeed < 1.5) return false;
    if (isHeld(context, squeal)) return true;
    return !electric.has(ridge) && endSeconds - startSeconds < longest;
  };
  return map.ridges
    .filter((ridge) => !isMains(context, ridge) && !isVoiced(ridge, byFrame))
    .map((ridge) => ({
      ridge,
      startSeconds: frames.frameSeconds(ridge.points[0]!.frame) - half,
      endSeconds: frames.frameSeconds(ridge.points[ridge.points.length - 1]!.frame) + half,
      pitchHz: medianPitch(ridge),
      followsSpeed: speedExponent(context.speed, ridge, frames.frameSeconds),
      spread: pitchSpread(ridge),
    }))
    .filter(mayBe);
}
