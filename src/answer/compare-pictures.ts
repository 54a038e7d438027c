import { hearClip } from "../diagnosis/view.js";
import type { ListeningContext } from "../evidence/context.js";
import { median } from "../foundation/statistics.js";
import { thirdOctavesWithin } from "../signal/octave-bands.js";
import type {
  BandLevels,
  ComparisonPictures,
  LineState,
  Pair,
  PairedLine,
} from "./compare-picture-data.js";
import { pairedClips } from "./compare-sounds.js";
import { hear, type DiagnoseOptions, type Heard } from "./diagnose-recordings.js";
import { LISTENING_BANDS } from "./listening-bands.data.js";
import { modulationData, orderData } from "./picture-data-spectra.js";
import {
  levelGrid,
  rowsBetween,
  shadesFor,
  spectrogramFrom,
  topHzOf,
  type LevelGrid,
} from "./picture-data-spectrogram.js";
import type { Curve, LineMark, OrderData } from "./picture-data.js";

const both = <T, U>({ before, after }: Pair<T>, of: (side: T) => U): Pair<U> => ({
  before: of(before),
  after: of(after),
});

/** Phones carry little below. */
const LOWEST_HZ = 50;

/** Mean level of a third-octave band over the usable columns of a grid, dB re full scale. */
function bandDb(
  { columns, highHz, seconds, levels }: LevelGrid,
  { usableMask, maskHopSeconds }: ListeningContext,
  [lowHz, topHz]: readonly [number, number],
): number {
  const [from, to] = rowsBetween(lowHz, topHz, highHz);
  let power = 0;
  let n = 0;
  for (let c = 0; c < columns; c++) {
    const at = ((c + 0.5) * seconds) / columns;
    if (usableMask[Math.floor(at / maskHopSeconds)] === 0) continue;
    for (let r = from; r < to; r++) power += 10 ** (levels[r * columns + c]! / 10);
    n += to - from;
  }
  // A third of an octave holds a third of an octave's power.
  return 10 * Math.log10(power / Math.max(1, n) / 3 + 1e-14);
}

interface Spectra {
  readonly bands: readonly BandLevels[];
  /** Middle of each recording's own spectrum, dB re full scale: 0 dB of what is drawn. */
  readonly middleDb: Pair<number>;
}

/**
 * Third-octave spectra of both, each over its own median band: a gain or distance moves every band alike
 * and drops out, while a noise in some bands does not move the median much.
 */
function spectraOf(grids: Pair<LevelGrid>, contexts: Pair<ListeningContext>): Spectra {
  const lowest = Math.max(
    LOWEST_HZ,
    contexts.before.recording.bandHz[0],
    contexts.after.recording.bandHz[0],
  );
  const octaves = thirdOctavesWithin(lowest, grids.before.highHz);
  const levels = (grid: LevelGrid, context: ListeningContext): number[] =>
    octaves.map(({ lowHz, highHz }) => bandDb(grid, context, [lowHz, highHz]));
  const before = levels(grids.before, contexts.before);
  const after = levels(grids.after, contexts.after);
  const middleDb = { before: median(before), after: median(after) };
  const bands = octaves.map(({ midHz }, i) => ({
    midHz,
    beforeDb: before[i]! - middleDb.before,
    afterDb: after[i]! - middleDb.after,
  }));
  return { bands, middleDb };
}

const shifted = (grid: LevelGrid, byDb: number): LevelGrid => ({
  ...grid,
  levels: grid.levels.map((db) => db - byDb),
});

function joined(grids: Pair<LevelGrid>): Float64Array {
  const all = new Float64Array(grids.before.levels.length + grids.after.levels.length);
  all.set(grids.before.levels);
  all.set(grids.after.levels, grids.before.levels.length);
  return all;
}

/** Height of a curve at a place, the highest of its neighbourhood of two points, dB. */
function heightAt({ first, step, overDb }: Curve, place: number): number {
  const at = Math.round((place - first) / step);
  return Math.max(...[at - 1, at, at + 1].map((k) => overDb[k] ?? 0));
}

interface MarkedCurve {
  readonly curve: Curve;
  readonly marks: readonly LineMark[];
}

function pairedLines({ before, after }: Pair<MarkedCurve>): PairedLine[] {
  const labels = [...new Set([...before.marks, ...after.marks].map(({ label }) => label))];
  const lines = labels.flatMap((label): PairedLine[] => {
    const [was, is] = [before, after].map(({ marks }) => marks.find((m) => m.label === label));
    const shown = [was, is].find((mark) => mark?.heard);
    if (shown === undefined) return [];
    const state = (mark: LineMark | undefined, { curve }: MarkedCurve): LineState => ({
      overDb: heightAt(curve, mark?.place ?? shown.place),
      pAdjusted: mark?.pAdjusted ?? null,
      heard: mark?.heard ?? false,
    });
    const { family, place } = shown;
    return [{ family, label, place, before: state(was, before), after: state(is, after) }];
  });
  const change = (line: PairedLine): number => Math.abs(line.before.overDb - line.after.overDb);
  return lines.sort((a, b) => change(b) - change(a));
}

/** The octave of a modulation spectrum that beats most, for the table of lines. */
function loudestBand(pair: ComparisonPictures["modulation"]): Pair<MarkedCurve> | null {
  if (pair === null) return null;
  const height = ({ overDb }: Curve): number => overDb.reduce((most, db) => Math.max(most, db), 0);
  const carried = pair.before.bands.flatMap(({ curve }, i) => {
    const other = pair.after.bands[i]!.curve;
    return curve === null || other === null ? [] : [{ before: curve, after: other }];
  });
  const [loudest] = carried.sort((a, b) => height(b.before) - height(a.before));
  if (loudest === undefined) return null;
  return {
    before: { curve: loudest.before, marks: pair.before.marks },
    after: { curve: loudest.after, marks: pair.after.marks },
  };
}

const complete = <T>({ before, after }: Pair<T | null>): Pair<T> | null =>
  before === null || after === null ? null : { before, after };

/** Spectra by orders, and the recording that had to take its speed from the other. */
type Orders = Pick<ComparisonPictures, "orders" | "speedTaken">;

/**
 * After a repair the drum is often too quiet for its speed to be heard. Its orders are then taken at the
 * other recording's speed, which must be the same for the two to be compared at all.
 */
function ordersOf(heard: Pair<Heard>, options: DiagnoseOptions): Orders {
  const speeds = both(heard, ({ speed }) => speed.drumRpm?.value ?? null);
  const orders = (of: Pair<Heard>): Pair<OrderData> | null =>
    complete(both(of, ({ context, evidence }) => orderData(context, evidence.lines)));
  if ((speeds.before === null) === (speeds.after === null)) {
    return { orders: orders(heard), speedTaken: null };
  }
  const speedTaken = speeds.before === null ? "before" : "after";
  const drumRpm = (speeds.before ?? speeds.after)!;
  const again = hear(heard[speedTaken].clip, { ...options, drumRpm });
  return { orders: orders({ ...heard, [speedTaken]: again }), speedTaken };
}

/**
 * What a report draws and plays of a comparison: both recordings on the same scales, free of gain and
 * distance. Listens once more only where one recording takes the other's speed. Pure: no files, no clock.
 */
export function comparisonPictures(
  heard: Pair<Heard>,
  options: DiagnoseOptions,
): ComparisonPictures {
  const contexts = both(heard, ({ context }) => context);
  const highHz = Math.min(topHzOf(contexts.before), topHzOf(contexts.after));
  const grids = both(contexts, (context) => levelGrid(context, highHz));
  const { bands, middleDb } = spectraOf(grids, contexts);
  const levelled = {
    before: shifted(grids.before, middleDb.before),
    after: shifted(grids.after, middleDb.after),
  };
  const shades = shadesFor(joined(levelled));
  const drawn = (side: keyof Pair<unknown>) =>
    spectrogramFrom(levelled[side], shades, contexts[side], heard[side].evidence.lines);
  const { label } = hearClip(heard.before.evidence).character;
  const noiseBandHz = LISTENING_BANDS.find(({ character }) => character === label)?.bandHz ?? null;
  const orders = ordersOf(heard, options);
  const modulation = complete(
    both(heard, (one) => modulationData(one.context, one.evidence.lines)),
  );
  const marked = orders.orders ?? loudestBand(modulation);
  return {
    spectrograms: { before: drawn("before"), after: drawn("after") },
    bands,
    noiseBandHz,
    ...orders,
    modulation,
    lines: marked === null ? [] : pairedLines(marked),
    clips:
      options.pictures === "with-clips"
        ? pairedClips(contexts, noiseBandHz)
        : { before: [], after: [], notes: [] },
  };
}
