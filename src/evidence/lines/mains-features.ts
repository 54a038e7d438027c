import { holmAdjust } from "../../foundation/significance.js";
import { clamp } from "../../foundation/statistics.js";
import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import type { FeatureId } from "../features.data.js";
import { measured, missing } from "../measurement.js";
import type { AxisSpectrum } from "./axis-spectrum.js";
import type { ClipViews } from "./line-views.js";
import { localLevel } from "./local-level.js";
import { testPlace } from "./place-test.js";
import { codecFrameHz } from "./shafts.js";

const LOW_HZ = 90;
const HIGH_HZ = 2000;
/** A multiple counts as a line from this height over its surroundings on. */
const LINE_RATIO = 4;
/** The comb's height is told from its strongest lines: a pure hum has few. */
const LINES_FOR_HEIGHT = 3;
// With this much the comb can be told from chance.
const HEARD_DB = 4;

interface CombLine {
  readonly multiple: number;
  /** Power over the background. */
  readonly power: number;
  readonly ratio: number;
}

function combLines(
  { power, bin }: AxisSpectrum,
  level: Float64Array,
  lineHz: number,
  topHz: number,
): CombLine[] {
  const lines: CombLine[] = [];
  for (let k = 1; k * lineHz <= topHz; k++) {
    if (k * lineHz < LOW_HZ) continue;
    const reach = Math.max(2, Math.round((0.1 + 0.0012 * k * lineHz) / bin) + 1);
    const middle = Math.round((k * lineHz) / bin);
    let over = 0;
    let ratio = 0;
    for (let i = middle - reach; i <= middle + reach; i++) {
      over += Math.max(0, power[i]! - level[i]!);
      ratio = Math.max(ratio, power[i]! / level[i]!);
    }
    lines.push({ multiple: k, power: ratio >= LINE_RATIO ? over : 0, ratio });
  }
  return lines;
}

const heightDb = (lines: readonly CombLine[]): number => {
  const strongest = [...lines].sort((a, b) => b.ratio - a.ratio).slice(0, LINES_FOR_HEIGHT);
  return strongest.reduce((sum, { ratio }) => sum + 10 * Math.log10(ratio), 0) / strongest.length;
};

interface Comb {
  readonly lineHz: number;
  readonly lines: readonly CombLine[];
  readonly db: number;
  /** The mains frequency is told or was heard by the speed estimate. */
  readonly sure: boolean;
}

function combOf(context: ListeningContext, spectrum: AxisSpectrum, topHz: number): Comb {
  const level = localLevel(spectrum.power);
  const known = context.speed.lineHz;
  const combs = (known === null ? [50, 60] : [known]).map((lineHz) => {
    const lines = combLines(spectrum, level, lineHz, topHz);
    return { lineHz, lines, db: heightDb(lines), sure: known !== null };
  });
  return combs.reduce((best, comb) => (comb.db > best.db ? comb : best));
}

function totalPower({ power, bin }: AxisSpectrum, topHz: number): number {
  let sum = 0;
  for (let k = Math.ceil(LOW_HZ / bin); k * bin <= topHz; k++) sum += power[k]!;
  return sum;
}

const FRACTIONS = [1, 1 / 2, 1 / 3] as const;
const FRACTION_WINDOW_HZ = 0.15;
const SAME_RATE_HZ = 0.4;

/**
 * Noise modulated at the mains frequency, its half or third: smallest Holm-adjusted p. Odd multiples only,
 * since two hum lines beat at twice the mains anyway; a rate that the codec's frames have is left out.
 */
function mainsModulation(context: ListeningContext, views: ClipViews): Measurement {
  const { lineHz } = context.speed;
  if (lineHz === null) return missing("mains");
  const axis = views.hertzEnvelope();
  if (axis === null) return missing("band");
  const frameHz = codecFrameHz(context);
  const rates = FRACTIONS.map((share) => share * lineHz).filter(
    (hz) => frameHz === null || Math.abs(hz - frameHz) > SAME_RATE_HZ,
  );
  const harmonics = { multiples: [1, 3], weights: [1, 0.6] };
  const tests = rates.flatMap((centre) => {
    const test = testPlace(axis, { centre, halfWidth: FRACTION_WINDOW_HZ, harmonics }, "mains");
    return test === null ? [] : [test];
  });
  if (tests.length === 0) return missing("short");
  const adjusted = holmAdjust(tests.map(({ p }) => p));
  const p = Math.min(...adjusted);
  const trust = rates.length === FRACTIONS.length ? 1 : 0.5;
  return measured(p, trust, { hz: tests[adjusted.indexOf(p)]!.at });
}

/** Rows that what runs on the mains fills: its comb, how high it goes, how much of the sound it is. */
export function mainsFeatures(
  context: ListeningContext,
  views: ClipViews,
): Partial<Record<FeatureId, Measurement>> {
  const modulation = { "mains-modulation": mainsModulation(context, views) };
  const axis = views.hertzSound();
  const topHz = Math.min(HIGH_HZ, context.recording.bandHz[1]);
  if (axis === null || topHz < 400) {
    const reason = axis === null ? missing("short") : missing("band");
    return {
      ...modulation,
      "mains-comb": reason,
      "mains-comb-order": reason,
      "mains-share": reason,
    };
  }
  const { lineHz, lines, db, sure } = combOf(context, axis.spectrum, topHz);
  const combPower = lines.reduce((sum, { power }) => sum + power, 0);
  const meanOrder =
    lines.reduce((sum, { power, multiple }) => sum + power * multiple, 0) / combPower;
  const share = clamp(combPower / totalPower(axis.spectrum, topHz), 0, 1);
  const trust = sure ? 1 : 0.6;
  const heard = db >= HEARD_DB && combPower > 0;
  const strongest = lines.reduce((best, line) => (line.power > best.power ? line : best));
  const detail = { hz: strongest.multiple * lineHz, lineHz };
  return {
    ...modulation,
    "mains-comb": measured(db, trust, detail),
    "mains-comb-order": heard ? measured(meanOrder, trust, detail) : missing("mains"),
    "mains-share": measured(heard ? share : 0, trust, detail),
  };
}
