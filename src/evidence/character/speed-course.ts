import type { SpeedEstimate } from "../../speed/speed-estimate.js";

/** Speed under which the drum counts as at rest, rpm. */
const REST_RPM = 15;
/** A pause must be this long before what follows counts as a start, seconds. */
const LEAST_PAUSE_SECONDS = 0.7;

const isAtRest = (drumRpm: number | null): boolean => drumRpm === null || drumRpm < REST_RPM;

/**
 * Moments in which the drum begins to be driven: the first turning after a pause, and the foot of a
 * run-up that sets out from rest or from a steady slow speed.
 */
export function driveStarts(speed: SpeedEstimate): number[] {
  const { track, hopSeconds } = speed;
  const starts: number[] = [];
  let rest = 0;
  track.forEach(({ timeSeconds, drumRpm }, i) => {
    if (isAtRest(drumRpm)) {
      rest += hopSeconds;
      return;
    }
    if (rest >= LEAST_PAUSE_SECONDS && i > 0) starts.push(timeSeconds);
    rest = 0;
  });
  const known = [...starts, ...runUpFeet(speed, starts)];
  const readBack = startReadBack(speed).filter((start) =>
    known.every((time) => Math.abs(time - start) > 4),
  );
  return [...known, ...readBack].sort((a, b) => a - b);
}

/** A start from rest may lie this long before the clip. */
const BEFORE_SECONDS = 4;

/** Start of a drum that is too slow to be heard yet: its run-up read back to rest; [] when there is none. */
export function startReadBack(speed: SpeedEstimate): number[] {
  const first = speed.track.find(({ drumRpm }) => drumRpm !== null);
  if (!first) return [];
  const slope = slopeAt(speed, first.timeSeconds + 1);
  if (slope === null || slope < 0.05) return [];
  const start = first.timeSeconds + 1 - 1 / slope;
  return start > -BEFORE_SECONDS ? [Math.max(0, start)] : [];
}

// The foot of a run-up: the speed gains over 10 % a second from here on and did not before.
function runUpFeet(speed: SpeedEstimate, known: readonly number[]): number[] {
  const feet: number[] = [];
  for (const { timeSeconds } of speed.track) {
    const before = slopeAt(speed, timeSeconds - 1);
    const after = slopeAt(speed, timeSeconds + 1);
    if (before === null || after === null || before > 0.02 || after < 0.1) continue;
    const last = feet[feet.length - 1] ?? -Infinity;
    if (timeSeconds - last < 4 || known.some((start) => Math.abs(start - timeSeconds) < 4))
      continue;
    feet.push(timeSeconds);
  }
  return feet;
}

/** Relative change of drum speed per second round a time (over ±0.75 s); null when not known there. */
export function slopeAt(speed: SpeedEstimate, seconds: number): number | null {
  const { track, hopSeconds } = speed;
  const reach = Math.max(1, Math.round(0.75 / hopSeconds));
  const first = track[0]?.timeSeconds ?? 0;
  const at = Math.round((seconds - first) / hopSeconds);
  const before = track[at - reach];
  const after = track[at + reach];
  if (!before?.drumRpm || !after?.drumRpm) return null;
  return (
    (2 * (after.drumRpm - before.drumRpm)) /
    ((after.drumRpm + before.drumRpm) * (after.timeSeconds - before.timeSeconds))
  );
}
