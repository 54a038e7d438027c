import type { LineFinding } from "../evidence/evidence.js";
import type { ListeningContext } from "../evidence/context.js";
import { clamp, quantiles } from "../foundation/statistics.js";
import { spectrogram, type Spectrogram } from "../signal/spectrum.js";
import { windowOf } from "../signal/window.js";
import { familyOf, isHeard } from "./picture-data-lines.js";
import { LEVEL_STEPS, type CourseMark, type SpectrogramData } from "./picture-data.js";

const ROWS = 220;
const MOST_COLUMNS = 720;
const LOW_HZ = 10;
const LEAST_HIGH_HZ = 1000;
/** Slow sound needs long windows, fast sound short ones: below and above this pitch. */
const CROSSOVER_HZ = 300;
const LONG = 8192;
const SHORT = 2048;
const LEAST_RANGE_DB = 40;
const MOST_RANGE_DB = 65;

/** Mean power of the frames of each column; shape [columns][bins]. */
function columnsOf(frames: Spectrogram, columns: number, seconds: number): Float64Array[] {
  const bins = frames.frames[0]?.length ?? 0;
  return Array.from({ length: columns }, (_, c) => {
    const at = (share: number): number =>
      Math.round((share * seconds - frames.halfWindowSeconds) / frames.hopSeconds);
    const last = frames.frames.length - 1;
    const from = clamp(at(c / columns), 0, last);
    const to = clamp(at((c + 1) / columns) - 1, from, last);
    const mean = new Float64Array(bins);
    for (let f = from; f <= to; f++) {
      const frame = frames.frames[f]!;
      for (let k = 0; k < bins; k++) mean[k]! += frame[k]! / (to - from + 1);
    }
    return mean;
  });
}

/** Power density between two frequencies, interpolated where no bin lies between them. */
function densityBetween(power: Float64Array, binHz: number, low: number, high: number): number {
  const first = Math.ceil(low / binHz);
  const last = Math.min(power.length - 1, Math.floor(high / binHz));
  if (last < first) {
    const place = Math.min(power.length - 1.001, (low + high) / 2 / binHz);
    const k = Math.floor(place);
    return power[k]! + (place - k) * (power[k + 1]! - power[k]!);
  }
  let sum = 0;
  for (let k = first; k <= last; k++) sum += power[k]!;
  return sum / (last - first + 1);
}

interface Resolution {
  readonly columns: readonly Float64Array[];
  readonly binHz: number;
  /** Turns squared magnitude into density per Hz. */
  readonly scale: number;
}

function resolutionOf(context: ListeningContext, length: number, columns: number): Resolution {
  const { sound, soundRateHz } = context;
  const size = Math.min(length, 2 ** Math.floor(Math.log2(Math.max(2, sound.length))));
  const perColumn = Math.floor(sound.length / columns);
  const hop = Math.max(64, Math.min(size / 2, perColumn));
  const frames = spectrogram(sound, soundRateHz, { length: size, hop });
  const squares = windowOf("hann", size).reduce((sum, w) => sum + w * w, 0);
  return {
    columns: columnsOf(frames, columns, sound.length / soundRateHz),
    binHz: frames.binHz,
    scale: 2 / (soundRateHz * squares),
  };
}

/**
 * Level over time and pitch on a logarithmic pitch axis, in dB re full scale in one octave: long windows
 * (0.5 s) below 300 Hz, short ones (0.13 s) above. Shape of the result [rows][columns].
 */
function levelsOf(context: ListeningContext, columns: number, highHz: number): Float64Array {
  const slow = resolutionOf(context, LONG, columns);
  const fast = resolutionOf(context, SHORT, columns);
  const ratio = (highHz / LOW_HZ) ** (1 / ROWS);
  const out = new Float64Array(ROWS * columns);
  for (let r = 0; r < ROWS; r++) {
    const low = LOW_HZ * ratio ** r;
    const centre = low * Math.sqrt(ratio);
    const { columns: power, binHz, scale } = centre < CROSSOVER_HZ ? slow : fast;
    // An octave around f is f/√2 Hz wide.
    const octave = (scale * centre) / Math.SQRT2;
    for (let c = 0; c < columns; c++) {
      const density = densityBetween(power[c]!, binHz, low, low * ratio);
      out[r * columns + c] = 10 * Math.log10(density * octave + 1e-14);
    }
  }
  return out;
}

function drumCourse(context: ListeningContext): CourseMark | null {
  const { track, drumRpm, notes } = context.speed;
  const points = track.map(({ timeSeconds, drumRpm: rpm }) => ({
    seconds: timeSeconds,
    hz: rpm === null ? null : rpm / 60,
  }));
  const label = "drum, one turn";
  if (points.some(({ hz }) => hz !== null)) return { family: "drum", label, heard: true, points };
  if (drumRpm === null) return null;
  const hz = drumRpm.value / 60;
  const seconds = context.recording.durationSeconds;
  return {
    family: "drum",
    label: notes.includes("told-speed-used") ? "drum, one turn (speed as told)" : label,
    heard: false,
    points: [
      { seconds: 0, hz },
      { seconds, hz },
    ],
  };
}

function courseOf(finding: LineFinding, drum: CourseMark | null, seconds: number): CourseMark {
  const { line, heardHz, heardOrder } = finding;
  const facts = { family: familyOf(line), label: line.label, heard: isHeard(finding) };
  if (heardOrder !== null && drum !== null) {
    const points = drum.points.map((point) => ({
      seconds: point.seconds,
      hz: point.hz === null ? null : point.hz * heardOrder,
    }));
    return { ...facts, points };
  }
  return {
    ...facts,
    points: [
      { seconds: 0, hz: heardHz },
      { seconds, hz: heardHz },
    ],
  };
}

const SAME_WITHIN = 0.02;

const isSameCourse = (a: CourseMark, b: CourseMark): boolean => {
  const [one, other] = [a.points[0]?.hz, b.points[0]?.hz];
  if (a.points.length !== b.points.length || one == null || other == null) return false;
  return Math.abs(one / other - 1) < SAME_WITHIN;
};

const MOST_LINES = 6;

/** Tones that the machine could make, best heard first; of each family and label one. */
function courses(
  findings: readonly LineFinding[],
  drum: CourseMark | null,
  seconds: number,
  highHz: number,
): CourseMark[] {
  const seen = new Set<string>();
  const made: CourseMark[] = [];
  const sorted = findings
    .filter(({ line, heardHz }) => line.seenIn === "spectrum" && heardHz < highHz)
    .sort((a, b) => Number(isHeard(b)) - Number(isHeard(a)) || a.p - b.p);
  for (const finding of sorted) {
    // Variants of one line (number of balls, of bars) that were not heard crowd the picture.
    const family = familyOf(finding.line);
    const key = isHeard(finding) ? finding.line.label : `${family}/${finding.line.kind}`;
    if (seen.has(key) || made.length >= MOST_LINES) continue;
    seen.add(key);
    const course = courseOf(finding, drum, seconds);
    // Two names for one tone would lie on top of each other; the better heard one stays.
    if (!made.some((other) => isSameCourse(other, course))) made.push(course);
  }
  return made;
}

const OCTAVE_CENTRES_HZ = [16, 31.5, 63, 125, 250, 500, 1000, 2000, 4000, 8000];
const MOST_SPANS = 8;

/** Mean level of each whole octave in equal stretches of time. */
function octavesOf(
  levels: Float64Array,
  columns: number,
  highHz: number,
): SpectrogramData["octaves"] {
  const spans = Math.min(MOST_SPANS, columns);
  const meanDb = (centreHz: number, span: number): number => {
    let power = 0;
    let n = 0;
    const [from, to] = rowsBetween(centreHz / Math.SQRT2, centreHz * Math.SQRT2, highHz);
    for (let r = from; r < to; r++) {
      const end = Math.floor(((span + 1) * columns) / spans);
      for (let c = Math.floor((span * columns) / spans); c < end; c++) {
        power += 10 ** (levels[r * columns + c]! / 10);
        n++;
      }
    }
    return 10 * Math.log10(power / n);
  };
  return OCTAVE_CENTRES_HZ.filter(
    (hz) => hz / Math.SQRT2 >= LOW_HZ && hz * Math.SQRT2 <= 1.01 * highHz,
  ).map((centreHz) => ({
    centreHz,
    levelsDb: Array.from({ length: spans }, (_, span) => meanDb(centreHz, span)),
  }));
}

/** Levels of a clip over time and pitch, before they are turned into steps of colour. */
export interface LevelGrid {
  readonly columns: number;
  readonly highHz: number;
  readonly seconds: number;
  /** Shape [ROWS][columns], row 0 lowest, dB re full scale in one octave. */
  readonly levels: Float64Array;
}

/** How far up a recording's spectrogram reaches, Hz. */
export const topHzOf = ({ recording, soundRateHz }: ListeningContext): number =>
  clamp(recording.bandHz[1], LEAST_HIGH_HZ, soundRateHz / 2);

export function levelGrid(context: ListeningContext, highHz = topHzOf(context)): LevelGrid {
  const seconds = context.sound.length / context.soundRateHz;
  const columns = Math.max(2, Math.min(MOST_COLUMNS, Math.floor(seconds * 50)));
  return { columns, highHz, seconds, levels: levelsOf(context, columns, highHz) };
}

/** Levels of the lightest and the darkest colour, dB. */
export interface Shades {
  readonly quietDb: number;
  readonly loudDb: number;
}

/** Shades that show nearly all levels of some grids. */
export function shadesFor(levels: Float64Array): Shades {
  const [low, high] = quantiles(levels, [0.05, 0.999]) as [number, number];
  return { quietDb: high - clamp(high - low, LEAST_RANGE_DB, MOST_RANGE_DB), loudDb: high };
}

/** Rows of a grid between two frequencies: the first, and the one after the last. */
export function rowsBetween(lowHz: number, highHz: number, topHz: number): [number, number] {
  const rowAt = (hz: number): number =>
    clamp(Math.round((ROWS * Math.log(hz / LOW_HZ)) / Math.log(topHz / LOW_HZ)), 0, ROWS);
  return [rowAt(lowHz), rowAt(highHz)];
}

/** The spectrogram of a clip from its levels, its drum speed and the tones to expect. */
export function spectrogramFrom(
  { columns, highHz, seconds, levels }: LevelGrid,
  { quietDb, loudDb }: Shades,
  context: ListeningContext,
  findings: readonly LineFinding[],
): SpectrogramData {
  const range = loudDb - quietDb;
  const steps = Uint8Array.from(levels, (db) =>
    clamp(Math.floor(((db - quietDb) / range) * LEVEL_STEPS), 0, LEVEL_STEPS - 1),
  );
  const drum = drumCourse(context);
  return {
    columns,
    rows: ROWS,
    steps,
    quietDb,
    loudDb,
    lowHz: LOW_HZ,
    highHz,
    seconds,
    drum,
    lines: courses(findings, drum, seconds, highHz),
    octaves: octavesOf(levels, columns, highHz),
  };
}

/** The spectrogram of a clip, its drum speed and the tones to expect. */
export function spectrogramData(
  context: ListeningContext,
  findings: readonly LineFinding[],
): SpectrogramData {
  const grid = levelGrid(context);
  return spectrogramFrom(grid, shadesFor(grid.levels), context, findings);
}
