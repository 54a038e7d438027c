import { clamp, median, quantile } from "../../foundation/statistics.js";
import {
  findTones,
  toneCriterionDb,
  toneToNoiseDb,
  type Tone,
  type TonesAndNoise,
} from "../../signal/tonality.js";
import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { bandPower, groupFrames, longFrames, type FrameGroup } from "./sound-frames.js";

const LOW_HZ = 90;
const HIGH_HZ = 7500;
const FRAMES_PER_GROUP = 4;
/** Multiples of the mains up to here are common in motors, valves and pumps. */
const HIGHEST_MAINS_MULTIPLE = 24;

/** Whether a frequency lies on a multiple of the mains, within the grid's drift and the bin's width. */
export function onMainsComb(hz: number, lineHz: number | null): boolean {
  if (lineHz === null) return false;
  const multiple = Math.round(hz / lineHz);
  if (multiple < 1 || multiple > HIGHEST_MAINS_MULTIPLE) return false;
  return Math.abs(hz - multiple * lineHz) < 0.6 + 0.0015 * hz;
}

/** Spacing of the lines that blows once per drum turn make, Hz. */
const BLOW_SPACING_HZ = [2.5, 30] as const;
const COMB_REACH = 3;
const LEAST_NEIGHBOURS = 3;
const TOWERING_DB = 10;

/** Lines that stand at whole multiples of a spacing from a tone. */
function combNeighbours(
  tones: readonly Tone[],
  at: number,
  spacing: number,
  binHz: number,
): Tone[] {
  const { hz } = tones[at]!;
  return tones.filter((other, i) => {
    const steps = Math.round((other.hz - hz) / spacing);
    if (i === at || steps === 0 || Math.abs(steps) > COMB_REACH) return false;
    return Math.abs(other.hz - hz - steps * spacing) < 1.2 * binHz;
  });
}

/**
 * Tones less the combs of repeated blows: lines with three or more even neighbours, as close as drum
 * turns are, over which they do not tower. A tone modulated once per turn towers over its sidebands and
 * stays; so does the strongest line of blows that ring for long.
 */
function withoutBlowCombs(tones: readonly Tone[], binHz: number): Tone[] {
  return tones.filter((tone, i) => {
    const gaps = [tones[i - 1], tones[i + 1]].flatMap((other) =>
      other ? [Math.abs(other.hz - tone.hz)] : [],
    );
    const spacing = Math.min(...gaps);
    if (!(spacing > BLOW_SPACING_HZ[0] && spacing < BLOW_SPACING_HZ[1])) return true;
    const neighbours = combNeighbours(tones, i, spacing, binHz);
    if (neighbours.length < LEAST_NEIGHBOURS) return true;
    return tone.riseDb - Math.max(...neighbours.map(({ riseDb }) => riseDb)) > TOWERING_DB;
  });
}

interface GroupTones extends TonesAndNoise {
  readonly group: FrameGroup;
}

/**
 * The mains frequency told or heard, or the one of 50 and 60 Hz whose even multiples hold most tones of
 * the clip; null when neither does in half of the groups.
 */
function mainsOf(context: ListeningContext, groups: readonly GroupTones[]): number | null {
  if (context.speed.lineHz !== null) return context.speed.lineHz;
  const score = (lineHz: number): number =>
    groups.filter(({ tones }) => {
      const heard = tones.filter(({ hz }) => hz < 650 && onMainsComb(hz, 2 * lineHz));
      return new Set(heard.map(({ hz }) => Math.round(hz / lineHz))).size >= 2;
    }).length / groups.length;
  const [fifty, sixty] = [score(50), score(60)];
  if (Math.max(fifty, sixty) < 0.5 || fifty === sixty) return null;
  return fifty > sixty ? 50 : 60;
}

function groupTones(context: ListeningContext): GroupTones[] {
  const [bandLow, bandHigh] = context.recording.bandHz;
  const fromHz = Math.max(LOW_HZ, bandLow);
  const toHz = Math.min(HIGH_HZ, bandHigh);
  return groupFrames(longFrames(context), FRAMES_PER_GROUP).map((group) => ({
    ...findTones(group, { fromHz, toHz }),
    group,
  }));
}

interface BestTone {
  readonly overCriterionDb: number;
  readonly hz: number;
}

function mostProminent(noise: TonesAndNoise["noise"], tones: readonly Tone[]): BestTone {
  let best: BestTone = { overCriterionDb: -25, hz: 0 };
  for (const tone of tones) {
    const overCriterionDb = toneToNoiseDb(tone, noise) - toneCriterionDb(tone.hz);
    if (overCriterionDb > best.overCriterionDb) best = { overCriterionDb, hz: tone.hz };
  }
  return best;
}

/**
 * How tonal the clip is, with the mains comb left out.
 *
 * `tone-share`: median over 1.3 s groups of the tones' power over all power of 90-7500 Hz.
 * `tone-prominence`: median over groups of the largest tone-to-noise ratio minus its criterion
 * (ECMA-418-1); -25 dB when there is no tone at all. Detail: the frequency, and the 90 % quantile.
 */
export function observeTones(
  context: ListeningContext,
): Record<"tone-share" | "tone-prominence", Measurement> {
  const groups = groupTones(context);
  const [bandLow, bandHigh] = context.recording.bandHz;
  if (groups.length < 2) {
    return { "tone-share": missing("short"), "tone-prominence": missing("short") };
  }
  if (bandHigh < 1500) {
    return { "tone-share": missing("band"), "tone-prominence": missing("band") };
  }
  const lineHz = mainsOf(context, groups);
  const own = groups.map(({ group, tones, noise }) => {
    const off = withoutBlowCombs(tones, group.binHz).filter(({ hz }) => !onMainsComb(hz, lineHz));
    const power = off.reduce((sum, tone) => sum + tone.power, 0);
    const all = bandPower(group, Math.max(LOW_HZ, bandLow), Math.min(HIGH_HZ, bandHigh));
    return { share: all > 0 ? power / all : NaN, best: mostProminent(noise, off) };
  });
  const shares = own.map(({ share }) => share).filter(Number.isFinite);
  const prominences = own.map(({ best }) => best.overCriterionDb);
  const typical = median(prominences);
  const heardHz = own.filter(({ best }) => best.overCriterionDb >= typical && best.hz > 0);
  const trust = clamp(bandHigh / 4000, 0.3, 1) * (context.recording.quality.voiceCodec ? 0.6 : 1);
  return {
    "tone-share": measured(median(shares), trust, { high: quantile(shares, 0.9) }),
    "tone-prominence": measured(typical, trust, {
      high: quantile(prominences, 0.9),
      ...(heardHz.length > 0 ? { hz: median(heardHz.map(({ best }) => best.hz)) } : {}),
    }),
  };
}
