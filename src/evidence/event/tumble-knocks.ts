import type { ListeningContext } from "../context.js";
import type { ImpactEvent, Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { bestBeat, firstOfEach, type Beat } from "./even-beat.js";
import { eventTrust } from "./trust.js";

/** One to three knocks a turn at 27 to 72 rpm, by the motor or by hand. */
export const TUMBLE_KNOCKS_HZ = [0.45, 3.6] as const;
/** A drum tumbles one way for 8 to 20 s at a time (from memory). */
const WINDOW_SECONDS = 8;
const FEWEST = 4;

/** Whether the clip may be of a drum that turns slowly: any turned by hand, a horizontal one in the wash. */
export const mayTumble = ({ profiles, toldPhase }: ListeningContext): boolean =>
  toldPhase === "hand-spin" ||
  (profiles.some(({ axis }) => axis === "horizontal") &&
    (toldPhase === "wash" || toldPhase === "unknown"));

/**
 * Single blows that keep an even beat as slow as a tumbling drum's turn or its lifters: p-value of
 * Rayleigh's test in windows of 8 s, multiplied by the rates and windows tried. Needs no speed.
 */
export function tumbleKnocks(
  context: ListeningContext,
  impacts: readonly ImpactEvent[],
): Measurement {
  if (!mayTumble(context)) return missing("phase");
  const seconds = context.recording.durationSeconds;
  if (seconds < WINDOW_SECONDS) return missing("short");
  const times = firstOfEach(impacts).map(({ timeSeconds }) => timeSeconds);
  let best: Beat = { rateHz: 0, p: 1, count: 0, atSeconds: 0 };
  let windows = 0;
  for (let from = 0; from + WINDOW_SECONDS / 2 < seconds; from += WINDOW_SECONDS / 2) {
    const own = times.filter((time) => time >= from && time < from + WINDOW_SECONDS);
    windows++;
    // Many more blows than three a turn are another noise.
    if (own.length < FEWEST || own.length > 2 * TUMBLE_KNOCKS_HZ[1] * WINDOW_SECONDS) continue;
    const beat = bestBeat(own, TUMBLE_KNOCKS_HZ);
    if (beat.p < best.p) best = beat;
  }
  const p = Math.min(1, best.p * Math.max(1, windows / 2));
  const trust = eventTrust(context) * (context.toldPhase === "unknown" ? 0.5 : 1);
  return measured(Math.max(1e-12, p), trust, { blows: best.count, hz: best.rateHz });
}
