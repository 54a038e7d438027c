import type { ListeningContext } from "../context.js";
import type { ImpactEvent, Measurement } from "../evidence.js";
import { mean, median } from "../../foundation/statistics.js";
import { blockPower } from "../../signal/spectrum.js";
import { measured, missing } from "../measurement.js";
import { eventTrust } from "./trust.js";

const WINDOW = 512;
const LOWEST_HZ = 2000;
const HIGHEST_HZ = 7600;
const MOST = 60;

interface Ring {
  readonly overDb: number;
  readonly hz: number;
}

/**
 * The narrowest strong line that a blow leaves 8-40 ms after it, over the same lines just before the
 * blow and over the rest of what the blow left. A click in an echoing room leaves noise, not a line.
 */
function ringAfter(context: ListeningContext, seconds: number, from: number): Ring | null {
  const { sound, soundRateHz } = context;
  const at = Math.round(seconds * soundRateHz);
  const start = at + Math.round(from * soundRateHz);
  const earlier = at - WINDOW - 160;
  if (earlier < 0 || start + WINDOW > sound.length) return null;
  const after = blockPower(sound, start, WINDOW, WINDOW);
  const before = blockPower(sound, earlier, WINDOW, WINDOW);
  const low = Math.round((LOWEST_HZ / soundRateHz) * WINDOW);
  const high = Math.round((HIGHEST_HZ / soundRateHz) * WINDOW);
  const floor = median(before.subarray(low, high)) + 1e-14;
  let peak = low;
  for (let k = low; k < high; k++) if (after[k]! > after[peak]!) peak = k;
  const rest = median(after.subarray(low, high)) + 1e-14;
  const old = Math.max(before[peak - 1]!, before[peak]!, before[peak + 1]!, floor);
  return {
    // Both must be passed: a steady whine is there before, a room's echo is broad.
    overDb: 10 * Math.log10(after[peak]! / Math.max(old, rest)),
    hz: (peak * soundRateHz) / WINDOW,
  };
}

/** What the highest of some 180 bins of noise reaches over their median: 10 lg(ln 180 / ln 2) + spread. */
const NOISE_REACHES_DB = 10;

/**
 * Rings at 2-7.6 kHz after blows, dB over what noise gives: mean of the three clearest. A ring counts when
 * it stands 8 ms after the blow and, weaker, still 20 ms after it. 0 when no blow leaves one.
 */
export function ping(context: ListeningContext, impacts: readonly ImpactEvent[]): Measurement {
  if (context.recording.bandHz[1] < 3500) return missing("band");
  const sharp = impacts
    .filter((impact) => impact.centreHz > 1000)
    .sort((a, b) => b.riseDb - a.riseDb)
    .slice(0, MOST);
  const rings: Ring[] = [];
  for (const { timeSeconds } of sharp) {
    const early = ringAfter(context, timeSeconds, 0.008);
    const late = ringAfter(context, timeSeconds, 0.02);
    if (!early || !late) continue;
    const same = Math.abs(early.hz / late.hz - 1) < 0.03;
    const over = early.overDb - NOISE_REACHES_DB;
    if (same && over > 0 && late.overDb > 3) rings.push({ overDb: over, hz: early.hz });
  }
  rings.sort((a, b) => b.overDb - a.overDb);
  const clearest = rings.slice(0, 3).map((ring) => ring.overDb);
  // Fewer than three are averaged with nothing: one ring is not yet a habit.
  const value = clearest.length === 0 ? 0 : mean([...clearest, 0, 0, 0].slice(0, 3));
  return measured(value, eventTrust(context) * 0.9, {
    count: rings.length,
    ...(rings[0] ? { hz: rings[0].hz } : {}),
    perSecond: rings.length / context.recording.durationSeconds,
  });
}
