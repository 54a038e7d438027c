import type { ListeningContext } from "../context.js";
import type { ImpactEvent, Measurement } from "../evidence.js";
import { clamp, mean } from "../../foundation/statistics.js";
import { measured, missing } from "../measurement.js";
import { loudnessTrack, TRACK_RATE_HZ } from "../stroke/loudness-track.js";
import { drumHzAt } from "./clicks.js";
import { eventTrust } from "./trust.js";

/** A bang that moves pipes or cabinet has its weight below this. */
const HEAVY_BELOW_HZ = 1200;

// Level of 1.2 s before the bang less that of 1.2 s after its ring, dB.
function dropAt(context: ListeningContext, seconds: number): number | null {
  const { levelDb } = loudnessTrack(context);
  const at = Math.round(seconds * TRACK_RATE_HZ);
  const before = levelDb.subarray(Math.max(0, at - 65), Math.max(0, at - 5));
  const after = levelDb.subarray(at + 25, at + 85);
  if (before.length < 25 || after.length < 25) return null;
  return mean(before) - mean(after);
}

/**
 * One heavy bang after which steady sound ends, as a water hammer: rise of the bang in dB, counted in
 * full when the level falls by 4 dB or more over it and not at all when by less than 1 dB. 0 without such
 * a bang; in full only when it is 4 dB above every other heavy blow, because else it is no single one.
 */
export function singleBang(
  context: ListeningContext,
  impacts: readonly ImpactEvent[],
): Measurement {
  if (context.recording.durationSeconds < 4) return missing("short");
  let best = { value: 0, atSeconds: 0, dropDb: 0 };
  const heavy = impacts.filter(({ centreHz }) => centreHz <= HEAVY_BELOW_HZ);
  for (const bang of heavy) {
    const dropDb = dropAt(context, bang.timeSeconds);
    if (dropDb === null) continue;
    const rivals = heavy.filter((other) => Math.abs(other.timeSeconds - bang.timeSeconds) > 0.5);
    const second = Math.max(0, ...rivals.map((other) => other.riseDb));
    const single = clamp((bang.riseDb - second) / 4, 0, 1);
    const value = bang.riseDb * clamp((dropDb - 1) / 3, 0, 1) * single;
    if (value > best.value) best = { value, atSeconds: bang.timeSeconds, dropDb };
  }
  const turning = best.value > 0 && drumHzAt(context, best.atSeconds) !== null;
  return measured(best.value, eventTrust(context) * (turning ? 0.4 : 0.9), {
    atSeconds: best.atSeconds,
    dropDb: best.dropDb,
  });
}
