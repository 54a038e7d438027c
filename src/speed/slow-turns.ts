import type { Hertz } from "../foundation/units.js";
import { courseClock } from "./course-clock.js";
import { scanTurns } from "./family-scan.js";
import { heightNear } from "./hearing.js";
import { HIGH_FROM_HZ, logEnvelopes } from "./log-envelope.js";
import { heightAt } from "./line-odds.js";
import { SLOW_VIEW, turnSpectra } from "./turn-spectra.js";

/** A slow turning drum: tumbling, distributing, or turned by hand. */
export interface SlowTurns {
  readonly drumHz: Hertz;
  readonly drumError: number;
  /** ln of relative speed at the frame middles. */
  readonly course: Float64Array;
  /** Distance of the modulation from what noise gives, deviations. */
  readonly strength: number;
}

export interface SlowSearch {
  readonly lowHz: Hertz;
  readonly highHz: Hertz;
  /** ln of speed lost over the clip, one course for each: [0] for a drum driven steadily. */
  readonly losses: readonly number[];
  readonly bandHz: readonly [number, number];
  readonly usable: Uint8Array;
  /** Likely speed, or null when any of the range is as good. */
  readonly likelyHz: Hertz | null;
}

const HARMONICS = 6;
const LIKELY_SPREAD = 0.12;
// The level of the whole clip is followed over this long, so that turning itself is not taken off.
const SLOW_SECONDS = 6;

/**
 * Looks for modulation at multiples of a slow rotation (laundry falling, lifters, knocks) in spectra of
 * 36 s blocks of the log envelopes. Needs some 20 s: rates differ by less than 0.1 Hz between candidates.
 */
export function findSlowTurns(
  sound: Float64Array,
  soundRateHz: Hertz,
  search: SlowSearch,
): SlowTurns | null {
  const [low, high] = search.bandHz;
  const envelopes = logEnvelopes(sound, soundRateHz, [Math.max(HIGH_FROM_HZ, low), high], {
    slowSeconds: SLOW_SECONDS,
  });
  const seconds = sound.length / soundRateHz;
  let best: SlowTurns | null = null;
  let bestOdds = -Infinity;
  for (const loss of search.losses) {
    const course = search.usable.map(() => 0);
    const ln = Float64Array.from(course, (_, i) => -loss * ((i + 0.5) / course.length - 0.5));
    const clock = courseClock(ln, seconds);
    const input = { envelopes, usable: search.usable, mainsHz: null };
    const turn = turnSpectra(input, clock, false, SLOW_VIEW).turn();
    const scan = scanTurns(turn, search.lowHz, search.highHz, { others: [] });
    for (let i = 0; i < scan.odds.length; i++) {
      const hz = Math.exp(scan.firstLn + i * 0.001);
      const off = search.likelyHz === null ? 0 : Math.log(hz / search.likelyHz) / LIKELY_SPREAD;
      let height = 0;
      for (let h = 1; h <= HARMONICS; h++) height += Math.max(0, heightAt(turn, h * hz));
      const odds = scan.odds[i]! + 0.1 * height - 0.5 * off * off;
      if (odds <= bestOdds) continue;
      bestOdds = odds;
      const heights = [1, 2, 3, 4, 5, 6].map((h) => heightNear(turn, h * hz, 0.004));
      const strength = Math.hypot(...heights.map((z) => Math.max(0, z - 1)));
      const widest = heights.reduce((sum, z, h) => sum + (z > 2.5 ? (h + 1) ** 2 : 0), 0.5);
      // A line of a Hann block of T seconds is placed to about 0.3 / T.
      const block = Math.min(seconds, SLOW_VIEW.blockSeconds);
      const drumError = 0.3 / block / hz / Math.sqrt(widest);
      best = { drumHz: hz, drumError: Math.max(0.003, drumError), course: ln, strength };
    }
  }
  return best;
}

/** Frames at which a course stands, as a track in Hz. */
export const slowTrack = (turns: SlowTurns): number[] =>
  Array.from(turns.course, (ln) => turns.drumHz * Math.exp(ln));
