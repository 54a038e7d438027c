import { movingMean } from "../evidence/character/level-series.js";
import { quantile, quantiles } from "../foundation/statistics.js";
import type { Recording } from "../recording/recording.js";
import { modulationOf, repetitionOf } from "./block-modulation.js";
import { atPace, PACES, type Pace } from "./block-paces.js";
import { fineBandsOf } from "./fine-bands.js";
import { FRAME_RATE_HZ, levelFrames, OCTAVE_COUNT } from "./level-frames.js";

/** What one block of a recording sounds like: gain-free figures by name; an absent name is missing. */
export type BlockFigures = Readonly<Record<string, number>>;

/** A recording in figures, block by block, so that blocks can be drawn anew. */
export interface Portrait {
  readonly blocks: readonly BlockFigures[];
}

/** Long against a turn of a drum: two turns of the slowest tumbling, five and more of any spin. */
export const BLOCK_SECONDS = 3;
export const HOP_SECONDS = 1.5;
const LEAST_USABLE = 0.8;

/** Octaves whose peaks are taken as events: low blows, middle, high clicks. */
const EVENT_OCTAVES = { low: [0, 1], middle: [2, 3], high: [4, 5, 6] } as const;
type EventBand = keyof typeof EVENT_OCTAVES;
const EVENT_BANDS = Object.keys(EVENT_OCTAVES) as EventBand[];
/** Share of the loudest frames that are taken as events. */
const EVENT_SHARE = 0.03;
const RING_SECONDS = 0.04;

/** One octave's level over time, prepared. */
interface Series {
  readonly level: Float64Array;
  /** Less the mean over octaves: a gain that the phone turns up and down drops out. */
  readonly against: Float64Array;
  readonly paces: Readonly<Record<Pace, Float64Array>>;
  readonly fast: Float64Array;
  readonly slow: Float64Array;
}

interface Stretch {
  readonly from: number;
  readonly to: number;
}

type Put = (name: string, value: number) => void;

function correlation(a: Float64Array, b: Float64Array): number {
  let [sa, sb, aa, bb, ab] = [0, 0, 0, 0, 0];
  const n = a.length;
  for (let i = 0; i < n; i++) {
    sa += a[i]!;
    sb += b[i]!;
    aa += a[i]! ** 2;
    bb += b[i]! ** 2;
    ab += a[i]! * b[i]!;
  }
  return (ab - (sa * sb) / n) / Math.sqrt((aa - sa ** 2 / n) * (bb - sb ** 2 / n) + 1e-12);
}

function seriesOf(octaves: readonly (Float64Array | null)[]): (Series | null)[] {
  const present = octaves.filter((level) => level !== null);
  const common = new Float64Array(present[0]?.length ?? 0);
  for (const level of present) level.forEach((v, i) => (common[i]! += v / present.length));
  return octaves.map((level) => {
    if (!level) return null;
    const smooth = movingMean(level, 2);
    const middle = movingMean(level, 30);
    const course = movingMean(level, 250);
    return {
      level,
      against: level.map((value, i) => value - common[i]!),
      paces: {
        click: atPace(level, "click"),
        blow: atPace(level, "blow"),
        swell: atPace(level, "swell"),
      },
      fast: smooth.map((value, i) => value - middle[i]!),
      slow: middle.map((value, i) => value - course[i]!),
    };
  });
}

function putOctave(one: Series, j: number, { from, to }: Stretch, put: Put): void {
  const cut = (values: Float64Array): Float64Array => values.subarray(from, to);
  modulationOf(cut(one.level)).forEach((db, q) => put(`modulation.${j}.${q}`, db));
  modulationOf(cut(one.against)).forEach((db, q) => put(`against.${j}.${q}`, db));
  put(`repetition.${j}`, repetitionOf(cut(one.paces.click)));
  for (const pace of PACES) {
    const [low, middle, high, top] = quantiles(cut(one.paces[pace]), [0.05, 0.5, 0.95, 0.995]) as [
      number,
      number,
      number,
      number,
    ];
    put(`${pace}-rise.${j}`, high - middle);
    put(`${pace}-peak.${j}`, top - middle);
    put(`${pace}-dip.${j}`, middle - low);
  }
}

function putTogether(series: readonly (Series | null)[], { from, to }: Stretch, put: Put): void {
  for (const gap of [1, 2]) {
    for (let j = 0; j + gap < OCTAVE_COUNT; j++) {
      const a = series[j];
      const b = series[j + gap];
      if (!a || !b) continue;
      const together = (of: "fast" | "slow"): number =>
        correlation(a[of].subarray(from, to), b[of].subarray(from, to));
      put(`fast-together.${gap}.${j}`, together("fast"));
      put(`slow-together.${gap}.${j}`, together("slow"));
    }
  }
}

/** What every octave does while some octaves peak, and 40 ms later: the blow's spectrum and its ring. */
function putEvents(series: readonly (Series | null)[], { from, to }: Stretch, put: Put): void {
  for (const band of EVENT_BANDS) {
    const own = EVENT_OCTAVES[band].flatMap((j) => series[j] ?? []);
    if (own.length === 0) continue;
    const trigger = new Float64Array(to - from);
    for (const { fast } of own) trigger.forEach((_, i) => (trigger[i]! += fast[from + i]!));
    const limit = quantile(trigger, 1 - EVENT_SHARE);
    const events = [...trigger.keys()].filter((i) => trigger[i]! >= limit);
    const later = Math.round(RING_SECONDS * FRAME_RATE_HZ);
    series.forEach((one, j) => {
      if (!one) return;
      const mean = (after: number): number =>
        events.reduce((sum, i) => sum + one.fast[Math.min(to - 1, from + i + after)]!, 0) /
        events.length;
      put(`event-${band}.${j}`, mean(0));
      put(`ring-${band}.${j}`, mean(later));
    });
  }
}

function blockFigures(series: readonly (Series | null)[], stretch: Stretch): BlockFigures {
  const figures: Record<string, number> = {};
  const put: Put = (name, value) => {
    if (Number.isFinite(value)) figures[name] = value;
  };
  series.forEach((one, j) => {
    if (one) putOctave(one, j, stretch, put);
  });
  putTogether(series, stretch, put);
  putEvents(series, stretch, put);
  return figures;
}

/**
 * A recording in figures that neither gain nor the slow bends of a phone's response change: how level
 * rises, rings, swings and repeats inside octaves, in blocks of 3 s, half overlapping.
 *
 * Blocks with more than a fifth of speech, silence or handling are left out. Octaves that the recording
 * does not carry are missing.
 *
 * @param sound the recording at `soundRateHz`, shape [n]
 */
export function portraitOf(
  sound: Float64Array,
  soundRateHz: number,
  recording: Pick<Recording, "bandHz" | "usable">,
): Portrait {
  const { octaves, usable } = levelFrames(sound, soundRateHz, recording);
  const series = seriesOf(octaves);
  const fineBands = fineBandsOf(sound, soundRateHz, recording.bandHz);
  const length = BLOCK_SECONDS * FRAME_RATE_HZ;
  const blocks: BlockFigures[] = [];
  for (let from = 0; from + length <= usable.length; from += HOP_SECONDS * FRAME_RATE_HZ) {
    const to = from + length;
    const share = usable.subarray(from, to).reduce((sum, v) => sum + v, 0) / length;
    if (share < LEAST_USABLE) continue;
    const fine = fineBands(from / FRAME_RATE_HZ, to / FRAME_RATE_HZ);
    blocks.push({ ...blockFigures(series, { from, to }), ...fine });
  }
  return { blocks };
}
