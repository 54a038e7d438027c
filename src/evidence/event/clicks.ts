import type { ListeningContext } from "../context.js";
import type { ImpactEvent } from "../evidence.js";

/** Speed of the drum at a moment, Hz; null while it stands or is not known. */
export function drumHzAt(context: ListeningContext, seconds: number): number | null {
  const { track, hopSeconds } = context.speed;
  if (track.length === 0) return null;
  const i = Math.min(
    track.length - 1,
    Math.max(0, Math.round((seconds - track[0]!.timeSeconds) / hopSeconds)),
  );
  const rpm = track[i]!.drumRpm;
  return rpm === null || rpm < 5 ? null : rpm / 60;
}

/** Short hard sounds such as relays, actuators and ratchets make: high and soon over. */
export const isClick = (impact: ImpactEvent): boolean =>
  impact.centreHz > 900 && impact.decaySeconds <= 0.12;

/**
 * Rates that shafts, lifters and belt give at a drum speed, so that clicks at those rates are theirs:
 * multiples of the drum's turns to six, and of a belt at 0.67-0.74 of them (trade reference §0, fact 7).
 * `blurHz`: how finely the rate could be told.
 */
export function isShaftRate(rateHz: number, drumHz: number | null, blurHz = 0): boolean {
  if (drumHz === null) return false;
  for (let k = 1; k <= 6; k++) {
    if (Math.abs(rateHz - k * drumHz) < 0.03 * rateHz + blurHz) return true;
  }
  const belt = rateHz / drumHz;
  return (belt > 0.65 && belt < 0.76) || (belt > 1.3 && belt < 1.52);
}
