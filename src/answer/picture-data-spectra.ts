import { BANDS, type ListeningContext } from "../evidence/context.js";
import type { LineFinding } from "../evidence/evidence.js";
import { orderSpectrum, timeSpectrum, type AxisSpectrum } from "../evidence/lines/axis-spectrum.js";
import {
  bandLogEnvelopes,
  carriedBands,
  driftSeconds,
  MODULATION_BANDS,
} from "../evidence/lines/envelope-bands.js";
import { localLevel } from "../evidence/lines/local-level.js";
import { shaftsOf, usableSum } from "../evidence/lines/shafts.js";
import type { LogEnvelope } from "../evidence/lines/log-envelope.js";
import { clamp } from "../foundation/statistics.js";
import { hertzMarks, orderMarks, usualMotorMark } from "./picture-data-lines.js";
import type { Curve, LineMark, ModulationData, OrderData } from "./picture-data.js";

const ENVELOPE_RATE_HZ = 1000;
/** Beats faster than this are heard as a tone or as roughness; the envelopes carry up to 450 Hz. */
const TOP_HZ = 400;
const ORDER_BLOCK_SECONDS = 8;
const ORDER_BLOCK_TURNS = 40;
const LEAST_TOP_ORDER = 6;
const MOST_TOP_ORDER = 32;
const HERTZ_BLOCK = 8192;
/** Holds twice the mains frequency, at which magnets and lamps beat. */
const LEAST_TOP_HZ = 130;
const POINTS = 900;

/** Power over its own background, mean over bands; shape [bins], 1 where nothing stands out. */
function overBackground(bands: readonly AxisSpectrum[]): Float64Array {
  const bins = Math.min(...bands.map(({ power }) => power.length));
  const out = new Float64Array(bins);
  for (const { power } of bands) {
    const level = localLevel(power);
    for (let k = 0; k < bins; k++) out[k]! += power[k]! / level[k]! / bands.length;
  }
  return out;
}

/** Thins a spectrum to about `POINTS` points up to `top`; a cell keeps its highest bin. */
function thinned(ratio: Float64Array, bin: number, top: number): Curve {
  const bins = Math.min(ratio.length, Math.floor(top / bin) + 1);
  const group = Math.max(1, Math.round(bins / POINTS));
  const n = Math.max(1, Math.floor(bins / group));
  const overDb = Float64Array.from({ length: n }, (_, i) => {
    let highest = 0;
    for (let k = Math.max(1, i * group); k < (i + 1) * group; k++) {
      highest = Math.max(highest, ratio[k] ?? 0);
    }
    return 10 * Math.log10(Math.max(1e-3, highest));
  });
  return { first: ((group - 1) / 2) * bin, step: group * bin, overDb };
}

const envelopesOf = (context: ListeningContext, emptySteady: boolean): LogEnvelope[] =>
  bandLogEnvelopes(context, MODULATION_BANDS, {
    rateHz: ENVELOPE_RATE_HZ,
    driftSeconds: driftSeconds(shaftsOf(context)),
    emptySteady,
  });

// A reader wants to see the places of all parts, and some room to the right.
function topOrder(marks: readonly LineMark[], carriedTo: number): number {
  const furthest = marks
    .map(({ place }) => place)
    .filter((place) => place <= MOST_TOP_ORDER)
    .reduce((a, b) => Math.max(a, b), 0);
  return Math.min(carriedTo, clamp(1.12 * furthest, LEAST_TOP_ORDER, MOST_TOP_ORDER));
}

// The speed that the answer states: where the clip's lines are clearest.
const plateauHz = ({ speed }: ListeningContext): number | null =>
  speed.drumRpm === null ? null : speed.drumRpm.value / 60;

/** A share of the clip at one speed from which lines that follow the drum stand still in hertz. */
const HELD_SHARE = 0.25;
const HELD_WITHIN = 0.03;

function isHeld({ speed }: ListeningContext, drumHz: number | null): boolean {
  if (drumHz === null || speed.track.length === 0) return drumHz !== null;
  const near = speed.track.filter(
    ({ drumRpm }) => drumRpm !== null && Math.abs(drumRpm / 60 / drumHz - 1) < HELD_WITHIN,
  );
  return near.length >= HELD_SHARE * speed.track.length;
}

/** How strongly the sound beats by beats per drum turn; null without a drum speed. */
export function orderData(
  context: ListeningContext,
  findings: readonly LineFinding[],
): OrderData | null {
  const shafts = shaftsOf(context);
  if (shafts === null) return null;
  const drumHz = plateauHz(context) ?? shafts.typicalHz;
  const sum = usableSum(context);
  const spectra = envelopesOf(context, true).flatMap(({ values, sampleRateHz }) => {
    const made = orderSpectrum(values, sampleRateHz, shafts.clock, {
      blockTurns: Math.max(ORDER_BLOCK_SECONDS * shafts.typicalHz, ORDER_BLOCK_TURNS),
      maxOrder: Math.min(MOST_TOP_ORDER, TOP_HZ / shafts.typicalHz),
      usableSum: sum,
    });
    return made === null ? [] : [made];
  });
  if (spectra.length === 0) return null;
  const ratio = overBackground(spectra);
  const { bin } = spectra[0]!;
  const found = orderMarks(findings, drumHz);
  const usual = found.some(({ family }) => family === "motor")
    ? null
    : usualMotorMark(context.profiles, drumHz);
  const all = usual === null ? found : [...found, usual];
  const top = topOrder(all, (ratio.length - 1) * bin);
  return {
    curve: thinned(ratio, bin, top),
    drumHz,
    marks: all.filter(({ place }) => place <= top),
  };
}

const bandLabel = (lowHz: number, highHz: number): string =>
  `${lowHz / 1000} to ${highHz / 1000} kHz`;

/** How strongly each octave of the sound beats, by beats per second. */
export function modulationData(
  context: ListeningContext,
  findings: readonly LineFinding[],
): ModulationData | null {
  const carried = carriedBands(context, MODULATION_BANDS);
  if (carried.length === 0) return null;
  const usableAt = (seconds: number): boolean =>
    context.usableMask[Math.floor(seconds / context.maskHopSeconds)] === 1;
  const envelopes = envelopesOf(context, false);
  const curves = envelopes.map(({ values, sampleRateHz }) => {
    const block = Math.min(HERTZ_BLOCK, 2 ** Math.floor(Math.log2(values.length)));
    const spectrum = timeSpectrum(values, sampleRateHz, block, usableAt);
    return spectrum === null
      ? null
      : thinned(overBackground([spectrum]), spectrum.bin, Number.POSITIVE_INFINITY);
  });
  if (curves.every((curve) => curve === null)) return null;
  const drumHz = plateauHz(context);
  const marks = hertzMarks(
    isHeld(context, drumHz) ? findings : findings.filter((one) => one.heardOrder === null),
    "envelope",
    drumHz,
  );
  const furthest = marks.reduce((most, { place }) => Math.max(most, place), 0);
  const topHz = clamp(1.15 * furthest, LEAST_TOP_HZ, TOP_HZ);
  const bands = MODULATION_BANDS.map((name) => {
    const [lowHz, highHz] = BANDS[name];
    const curve = curves[carried.indexOf(name)] ?? null;
    return { label: bandLabel(lowHz, highHz), lowHz, highHz, curve };
  });
  return { bands, topHz, marks: marks.filter(({ place }) => place <= topHz) };
}
