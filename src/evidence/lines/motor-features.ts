import { simesCombine } from "../../foundation/significance.js";
import type { ExpectedLine } from "../../machine/expected-line.js";
import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import type { FeatureId } from "../features.data.js";
import { measured, missing } from "../measurement.js";
import type { AxisSpectrum } from "./axis-spectrum.js";
import { IMPACT_HARMONICS } from "./comb-test.js";
import { ENVELOPE_TOP_HZ, type SoundAxis } from "./drum-axes.js";
import type { LineAxis } from "./line-axis.js";
import { lineTrust, whyMissing } from "./line-features.js";
import type { ClipViews } from "./line-views.js";
import { localLevel } from "./local-level.js";
import { motorRaces } from "./motor-races.js";
import { testPlace } from "./place-test.js";

const isMotorTurn = ({ kind, clock }: ExpectedLine): boolean =>
  kind === "shaft" && clock === "motor";

const isDogs = (line: ExpectedLine): boolean =>
  line.part === "motor-coupling" && line.multiple === 3;

/** The view in which modulation at the motor's rotation can be seen, and where it lies. */
function motorTurnPlace(
  line: ExpectedLine,
  views: ClipViews,
): { axis: LineAxis; centre: number } | null {
  const ratio = line.drumOrder === null ? null : line.drumOrder / line.multiple;
  const motorHz = ratio !== null && views.drumHz !== null ? ratio * views.drumHz : views.motorHz;
  if (motorHz !== null) {
    const slow = motorHz * 3 <= ENVELOPE_TOP_HZ;
    const axis = slow ? views.drumEnvelope() : views.drumFastEnvelope();
    const centre = axis?.motorPlace ?? ratio;
    return axis === null || centre === null ? null : { axis, centre };
  }
  if (line.hz === null) return null;
  const axis = views.hertzEnvelope();
  return axis === null ? null : { axis, centre: line.hz / line.multiple };
}

function motorShaft(context: ListeningContext, views: ClipViews): Measurement {
  const line = context.expectedLines.find(isMotorTurn);
  const where = line === undefined ? null : motorTurnPlace(line, views);
  if (line === undefined || where === null) return whyMissing(context, views, isMotorTurn);
  const { axis, centre } = where;
  const halfWidth = centre * (line.tolerance + axis.motorError);
  const found = testPlace(axis, { centre, halfWidth, harmonics: IMPACT_HARMONICS }, "motor");
  if (found === null) return missing("short");
  return measured(found.p, lineTrust(views), { hz: found.at * axis.hzPerPlace });
}

/** Evidence that one and three times a place stand out together: the weaker of the two decides. */
function bothOf(axis: LineAxis): LineAxis {
  const pair = axis.unblanked.map((once, k) => Math.min(once, axis.unblanked[3 * k] ?? 0));
  return { ...axis, evidence: pair, unblanked: pair };
}

function coupling(context: ListeningContext, views: ClipViews): Measurement {
  const line = context.expectedLines.find(isDogs);
  const where = line === undefined ? null : motorTurnPlace(line, views);
  if (line === undefined || where === null) return whyMissing(context, views, isDogs);
  const { axis, centre } = where;
  const halfWidth = centre * (line.tolerance + axis.motorError);
  const single = { multiples: [1], weights: [1] };
  const found = testPlace(bothOf(axis), { centre, halfWidth, harmonics: single }, "motor");
  if (found === null) return missing("short");
  return measured(found.p, lineTrust(views), { hz: found.at * axis.hzPerPlace });
}

/** Height over the background of the highest bin near a place, as a power ratio of at least 1. */
function heightAt(
  { power, bin, resolution }: AxisSpectrum,
  level: Float64Array,
  place: number,
  slack = 0,
): number {
  const reach = Math.max(1, Math.round((resolution / 2 + slack) / bin));
  const middle = Math.round(place / bin);
  let best = 1;
  for (let k = Math.max(1, middle - reach); k <= middle + reach && k < power.length; k++) {
    best = Math.max(best, power[k]! / level[k]!);
  }
  return best;
}

const EXCESS_HARMONICS = [2, 3, 4, 5, 6] as const;

/** 10 lg of the mean height of motor harmonics 2-6 over that of harmonic 1 (or the background). */
function harmonicExcess(context: ListeningContext, views: ClipViews): Measurement {
  const axis = views.drumSound();
  if (axis === null || axis.motorPlace === null || axis.motorPlace < 1.2) {
    return whyMissing(context, views, isMotorTurn);
  }
  const { spectrum, motorPlace, motorError } = axis;
  if (2 * motorPlace > axis.top) return missing("band");
  const level = localLevel(spectrum.power);
  const height = (k: number): number =>
    heightAt(spectrum, level, k * motorPlace, k * motorPlace * motorError);
  const inBand = EXCESS_HARMONICS.filter((k) => k * motorPlace <= axis.top);
  const higher = inBand.reduce((sum, k) => sum + height(k), 0) / inBand.length;
  const value = 10 * Math.log10(higher / height(1));
  const trust = lineTrust(views) * (axis.motor?.measured === true ? 1 : 0.4);
  return measured(value, trust, { hz: motorPlace * axis.hzPerPlace });
}

const isPoleOrder = ({ kind, clock }: ExpectedLine): boolean =>
  clock !== "mains" && (kind === "pole-pass" || kind === "torque-ripple" || kind === "cogging");

const POLE_LINE_RATIO = 10;

interface PoleLine {
  readonly place: number;
  readonly height: number;
}

/** The strongest magnet order that stands 10 dB out, or null. */
function strongestPoleOrder(
  context: ListeningContext,
  axis: SoundAxis,
  level: Float64Array,
): PoleLine | null {
  let best: PoleLine | null = null;
  for (const line of context.expectedLines.filter(isPoleOrder)) {
    const scale = line.clock === "motor" ? axis.motorPlace : axis.drumPlace;
    const place = scale === null ? Infinity : line.multiple * scale;
    if (place + 1.5 > axis.top) continue;
    const height = heightAt(axis.spectrum, level, place, place * axis.clockError);
    if (height > POLE_LINE_RATIO && height > (best?.height ?? 0)) best = { place, height };
  }
  return best;
}

/** Level of the two lines one drum turn to each side of the strongest magnet order, against it, dB. */
function poleSidebands(context: ListeningContext, views: ClipViews): Measurement {
  const axis = views.drumHz === null ? null : views.drumSound();
  if (axis === null) return whyMissing(context, views, isPoleOrder);
  if (!context.expectedLines.some(isPoleOrder)) return missing("phase");
  const level = localLevel(axis.spectrum.power);
  const pole = strongestPoleOrder(context, axis, level);
  if (pole === null) return missing("no-events");
  if (axis.resolution > 0.45) return missing("short");
  const sides = [-1, 1].map((side) => heightAt(axis.spectrum, level, pole.place + side) - 1);
  const value = 10 * Math.log10(Math.max(1e-4, (sides[0]! + sides[1]!) / pole.height));
  return measured(value, lineTrust(views), { hz: pole.place * axis.hzPerPlace });
}

/** The single lines of a motor bearing, joined with the comb of its races. */
function motorBearing(views: ClipViews, lines: Measurement | undefined): Measurement | undefined {
  const axis = views.drumSound();
  const races = axis === null ? null : motorRaces(axis);
  if (axis === null || races === null) return lines;
  const single = lines?.value ?? 1;
  const p = simesCombine([single, races.p]);
  if (single <= races.p) return { ...lines!, value: p };
  // The outer race's own rate, 3.05 or 3.57 a turn; with seven balls the latter is its first sideband.
  const perMotorTurn = races.offset < 0.25 ? 3 + races.offset : 4 - races.offset;
  return measured(p, lineTrust(views), {
    hz: perMotorTurn * races.place * axis.hzPerPlace,
    perMotorTurn,
    label: "the races of a motor bearing",
  });
}

/** Rows that the motor's own lines fill. */
export const motorFeatures = (
  context: ListeningContext,
  views: ClipViews,
  lines: Partial<Record<FeatureId, Measurement>>,
): Partial<Record<FeatureId, Measurement>> => ({
  "line-motor-bearing": motorBearing(views, lines["line-motor-bearing"]) ?? missing("speed"),
  "line-motor-shaft": motorShaft(context, views),
  "line-coupling": coupling(context, views),
  "motor-harmonic-excess": harmonicExcess(context, views),
  "pole-pass-sidebands": poleSidebands(context, views),
});
