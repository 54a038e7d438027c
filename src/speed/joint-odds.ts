import { logistic } from "../foundation/statistics.js";
import { FINE_STEP, scanHz, type Scan } from "./family-scan.js";
import { RATIO_MARGIN, type ToneSource } from "./tone-source.js";

/** What else is known of the speed. */
export interface SpeedPrior {
  readonly toldDrumHz: number | null;
  readonly toldMotorHz: number | null;
  /** Speed of the plateau over the reference speed of the course. */
  readonly plateauShare: number;
  /** Highest speed of the course over the reference speed. */
  readonly peakShare: number;
  /** Mains frequency, for motors fed by it; null when not known. */
  readonly lineHz: number | null;
  /** The course holds its highest speed for a while, so that a motor on the mains has run up. */
  readonly onPlateau: boolean;
  /** The course is nearly constant. */
  readonly steady: boolean;
  /** Highest spin speed of the machine. */
  readonly topHz: number;
  /** Lowest speed that the machine holds in a spin. */
  readonly leastSteadyHz: number;
}

/** Joint log-odds over drum speed, and what each kind of drive adds to it. */
export interface JointScan extends Scan {
  /** ln of the mean over each source's ratios, shape [sources][places]. */
  readonly bySource: readonly Float64Array[];
  /** From modulation and what is known beforehand alone. */
  readonly withoutTones: Float64Array;
}

// How often a drive's tones stand out at all.
const TONES_HEARD = 0.8;
// Tones belong to some shaft, but not always to the one they seem to: they must not outvote the drum's turn.
const TONES_AT_MOST = 7;
const TOLD_SPREAD = 0.05;
const TOLD_FLOOR = -6;

/** Belief in a told speed: normal in ln f with 5 % spread, but never quite without doubt. */
export function toldOdds(hz: number, toldHz: number | null): number {
  if (toldHz === null) return 0;
  const off = Math.log(hz / toldHz) / TOLD_SPREAD;
  return Math.log(Math.exp(-0.5 * off * off) + Math.exp(TOLD_FLOOR));
}

// A spin holds a speed that the machine has for spinning, reaches 300 rpm at least, and passes the machine's
// own top speed by a margin only, unless one was told. In log-odds of the highest speed: common practice,
// no source. What beats faster than the machine spins is a belt's two slaps, or the motor's own rotation.
function spinOdds(peakHz: number, prior: SpeedPrior): number {
  const slow = prior.steady ? prior.leastSteadyHz : 5;
  const below = Math.max(0, Math.log(slow / peakHz));
  const above = Math.max(0, Math.log(peakHz / (1.08 * prior.topHz)));
  const mostAbove = prior.toldDrumHz === null ? 12 : 4;
  return -Math.min(5, 8 * below) - Math.min(mostAbove, 20 * above);
}

/** A motor on the mains runs 0.5-11 % under the field's speed: 120 f_L / poles rpm. */
function slipOdds(motorHz: number, source: ToneSource, prior: SpeedPrior): number {
  if (source.mainsPoles.length === 0 || !prior.onPlateau) return 0;
  const lines = prior.lineHz === null ? [50, 60] : [prior.lineHz];
  const inside = lines.some((line) =>
    source.mainsPoles.some((poles) => {
      const share = (motorHz * prior.plateauShare * poles) / (2 * line);
      return share > 0.89 && share < 0.998;
    }),
  );
  return inside ? 1 : -1.5;
}

/** Tone odds of one source with what is known of its motor added. */
export function sourceOdds(tones: Scan, i: number, source: ToneSource, prior: SpeedPrior): number {
  // Nothing is known of most motors: this is the inner loop of every scan.
  if (prior.toldMotorHz === null && (source.mainsPoles.length === 0 || !prior.onPlateau)) {
    return tones.odds[i]!;
  }
  const motorHz = scanHz(tones, i) * source.motorPerTone;
  return (
    tones.odds[i]! +
    slipOdds(motorHz, source, prior) +
    toldOdds(motorHz * prior.plateauShare, prior.toldMotorHz)
  );
}

// Mean of e^odds over a window of ratios, by running sums of capped exponentials.
function meanOverRatios(
  turns: Scan,
  tones: Scan,
  source: ToneSource,
  prior: SpeedPrior,
): Float64Array {
  const sums = new Float64Array(tones.odds.length + 1);
  for (let i = 0; i < tones.odds.length; i++) {
    sums[i + 1] = sums[i]! + Math.exp(sourceOdds(tones, i, source, prior));
  }
  const out = new Float64Array(turns.odds.length);
  const offset = turns.firstLn - tones.firstLn;
  const exact = source.lowRatio === source.highRatio;
  // The whole range, and the usual span of the profile once more.
  for (const [margin, weight] of exact
    ? [[0, 1]]
    : [
        [0, 0.35],
        [RATIO_MARGIN, 0.65],
      ]) {
    const lowLn = Math.log(source.lowRatio) + margin!;
    const highLn = Math.log(source.highRatio) - margin!;
    const lowShift = Math.round((offset + lowLn) / FINE_STEP) - 1;
    const highShift = Math.round((offset + highLn) / FINE_STEP) + 1;
    for (let i = 0; i < out.length; i++) {
      const low = Math.max(0, i + lowShift);
      const high = Math.min(tones.odds.length - 1, i + highShift);
      const sum = high >= low ? sums[high + 1]! - sums[low]! : 0;
      out[i]! += (weight! * sum) / (highShift - lowShift + 1);
    }
  }
  return out.map((mean) => Math.log(Math.max(1e-9, mean)));
}

/**
 * Joins modulation and tones: for every drum speed, the odds of the modulation plus, for each kind of
 * drive, the odds of its tones averaged over the ratios it may have (so that a wide span of ratios has
 * no unfair choice), plus what was told.
 */
export function joinScans(
  turns: Scan,
  tones: Scan,
  sources: readonly ToneSource[],
  prior: SpeedPrior,
): JointScan {
  const bySource = sources.map((source) => meanOverRatios(turns, tones, source, prior));
  const odds = new Float64Array(turns.odds.length);
  const withoutTones = new Float64Array(turns.odds.length);
  for (let i = 0; i < odds.length; i++) {
    let sum = 1 - TONES_HEARD;
    for (let s = 0; s < sources.length; s++) {
      sum += TONES_HEARD * sources[s]!.weight * Math.exp(bySource[s]![i]!);
    }
    const hz = scanHz(turns, i) * prior.plateauShare;
    const before =
      toldOdds(hz, prior.toldDrumHz) + spinOdds(scanHz(turns, i) * prior.peakShare, prior);
    withoutTones[i] = turns.odds[i]! + before;
    odds[i] = withoutTones[i]! + Math.min(TONES_AT_MOST, Math.log(sum));
  }
  return { firstLn: turns.firstLn, odds, bySource, withoutTones };
}

/** Best ratio of tones to drum for a drum speed, and its odds. */
export function bestRatio(
  drumHz: number,
  tones: Scan,
  source: ToneSource,
  prior: SpeedPrior,
): { readonly toneHz: number; readonly odds: number } {
  const at = (ratio: number): number =>
    Math.round((Math.log(drumHz * ratio) - tones.firstLn) / FINE_STEP);
  let best = { toneHz: drumHz * source.lowRatio, odds: -Infinity };
  const high = Math.min(tones.odds.length - 1, at(source.highRatio) + 1);
  for (let i = Math.max(0, at(source.lowRatio) - 1); i <= high; i++) {
    const odds = sourceOdds(tones, i, source, prior);
    if (odds > best.odds) best = { toneHz: scanHz(tones, i), odds };
  }
  return best;
}

/** Probability that tones of some source are heard at a place of the joint scan. */
export function tonesHeard(
  joint: JointScan,
  sources: readonly ToneSource[],
  i: number,
): { readonly probability: number; readonly source: number } {
  let sum = 0;
  let source = 0;
  let top = -Infinity;
  sources.forEach((s, index) => {
    const value = Math.log(s.weight) + joint.bySource[index]![i]!;
    sum += TONES_HEARD * Math.exp(value);
    if (value > top) {
      top = value;
      source = index;
    }
  });
  return { probability: logistic(Math.log(Math.max(1e-12, sum) / (1 - TONES_HEARD))), source };
}
