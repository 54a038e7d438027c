import { clamp } from "../../foundation/statistics.js";
import { runningMedian } from "../../signal/running-median.js";
import { welch } from "../../signal/spectrum.js";
import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import type { FeatureId } from "../features.data.js";
import { measured, missing } from "../measurement.js";

const SEGMENT = 32_768;
const MULTIPLES = 40;
const BACKGROUND_HZ = 18;
/** The mains wanders by less than this share; a line may also lie between two bins. */
const DRIFT = 0.002;
/** A comb weaker than this over its surroundings is not there. */
const HEARD_DB = 4;
const BAND_HZ = [90, 2000] as const;

interface Comb {
  readonly lineHz: number;
  /** Mean over the strongest six of multiples 1-12, dB over the background. */
  readonly strengthDb: number;
  readonly share: number;
  readonly meanMultiple: number;
}

function combOf(
  power: Float64Array,
  background: Float64Array,
  binHz: number,
  lineHz: number,
): Comb {
  const heights: number[] = [];
  let lines = 0;
  let weighted = 0;
  for (let k = 1; k <= MULTIPLES && k * lineHz < BAND_HZ[1]; k++) {
    const reach = Math.max(2, Math.round((DRIFT * k * lineHz) / binHz));
    const centre = Math.round((k * lineHz) / binHz);
    let excess = 0;
    let top = 0;
    for (let j = centre - reach; j <= centre + reach; j++) {
      excess += Math.max(0, power[j]! - 2 * background[j]!);
      top = Math.max(top, power[j]! / (background[j]! + 1e-30));
    }
    if (k <= 12) heights.push(10 * Math.log10(Math.max(1, top)));
    if (k * lineHz >= BAND_HZ[0]) {
      lines += excess;
      weighted += k * excess;
    }
  }
  heights.sort((a, b) => b - a);
  let total = 0;
  for (let j = Math.ceil(BAND_HZ[0] / binHz); j <= BAND_HZ[1] / binHz; j++) total += power[j]!;
  return {
    lineHz,
    strengthDb: heights.slice(0, 6).reduce((sum, h) => sum + h, 0) / 6 - noiseMaximumDb(),
    share: clamp(lines / (total + 1e-30), 0, 1),
    meanMultiple: lines > 0 ? weighted / lines : 2,
  };
}

// The largest of a handful of averaged bins lies about this far above the background in plain noise.
const noiseMaximumDb = (): number => 3;

/**
 * Lines at multiples of the mains frequency: how strong, what share of 90-2000 Hz, and how far up.
 * With no mains frequency told or heard, the stronger comb of 50 and 60 Hz counts, at half trust.
 */
export function mainsRows(context: ListeningContext): Partial<Record<FeatureId, Measurement>> {
  if (context.sound.length < SEGMENT) {
    const short = missing("short");
    return { "mains-comb": short, "mains-share": short, "mains-comb-order": short };
  }
  const { values: power, binHz } = welch(context.sound, context.soundRateHz, {
    segmentLength: SEGMENT,
  });
  const background = runningMedian(power, Math.round(BACKGROUND_HZ / binHz));
  const known = context.speed.lineHz;
  const combs = (known === null ? [50, 60] : [known]).map((hz) =>
    combOf(power, background, binHz, hz),
  );
  const best = combs.reduce((a, b) => (b.strengthDb > a.strengthDb ? b : a));
  const trust = known === null ? 0.5 : 1;
  const detail = { hz: 2 * best.lineHz };
  return {
    "mains-comb": measured(best.strengthDb, trust, detail),
    "mains-share": measured(best.strengthDb < HEARD_DB ? 0 : best.share, trust, detail),
    "mains-comb-order":
      best.strengthDb < HEARD_DB
        ? missing("no-events")
        : measured(best.meanMultiple, trust, detail),
  };
}
