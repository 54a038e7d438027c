import { decoyPValue, holmAdjust, simesCombine } from "../../foundation/significance.js";
import type { ExpectedLine } from "../../machine/expected-line.js";
import type { LineFinding } from "../evidence.js";
import type { LineAxis } from "./line-axis.js";
import { placeLines, type LineViews } from "./place-lines.js";
import { groupLines, WindowTester, type LineTest } from "./window-test.js";

interface Tested extends LineTest {
  /** What is counted once: a bearing with all its rates, or one question. */
  readonly unit: string;
}

const BEARING_RATES = /\/(outer|inner|ball)\//;

/** A bearing's rates are one unit; so is every other group of lines that share a window. */
function unitOf({ placed: { line } }: LineTest, groupIndex: number): string {
  return line.kind.startsWith("bearing-") && BEARING_RATES.test(line.id)
    ? line.id.replace(BEARING_RATES, "/")
    : `group-${groupIndex}`;
}

/** Holm over units, Simes within a unit; lines of sound and of damaged parts are separate families. */
function adjust(tested: readonly Tested[]): number[] {
  const adjusted = new Array<number>(tested.length).fill(1);
  for (const healthy of [false, true]) {
    const units = new Map<string, number[]>();
    tested.forEach(({ placed, unit }, i) => {
      if (placed.line.healthy === healthy) units.set(unit, [...(units.get(unit) ?? []), i]);
    });
    const members = [...units.values()];
    const combined = members.map((list) => simesCombine(list.map((i) => tested[i]!.p)));
    holmAdjust(combined).forEach((p, u) => {
      for (const i of members[u]!) adjusted[i] = Math.max(p, tested[i]!.p);
    });
  }
  return adjusted;
}

/** A known line of another owner lies where the best match was found. */
function onKnownLine({ placed, at }: Tested): boolean {
  const { axis, owner } = placed;
  return axis.known.some(
    (known) =>
      known.owner !== owner && Math.abs(known.place - at) <= known.halfWidth + axis.resolution / 2,
  );
}

// A belt's splice or a lump gives many harmonics; up to here they pass for something else.
const BELT_HARMONICS = 8;

/** A found belt's harmonics explain what lies on them. */
function onBeltHarmonic(one: Tested, belts: readonly Tested[]): boolean {
  if (one.placed.line.kind === "belt-pass") return false;
  return belts.some(({ placed, at }) => {
    if (placed.axis !== one.placed.axis) return false;
    const k = Math.round(one.at / at);
    const off = Math.abs(one.at - k * at);
    return k >= 1 && k <= BELT_HARMONICS && off <= placed.axis.resolution * (1 + k / 4);
  });
}

// How much better a match must be for a weaker one to pass as its sideband.
const CLEARLY_STRONGER = 3;

/** Lies one or two drum turns beside a clearly stronger line of a damaged part: that one's sideband. */
function onSideband(one: Tested, all: readonly Tested[]): boolean {
  const { axis } = one.placed;
  if (axis.drumPlace === null) return false;
  return all.some(({ placed, at, p }) => {
    if (placed.axis !== axis || placed.line.healthy || p * CLEARLY_STRONGER > one.p) return false;
    const turns = Math.abs(one.at - at) / axis.drumPlace!;
    const off = Math.abs(turns - Math.round(turns)) * axis.drumPlace!;
    return p < 0.01 && Math.round(turns) >= 1 && Math.round(turns) <= 2 && off <= axis.resolution;
  });
}

const SIDEBAND_LOOK_P = 0.05;

function sidebandSum(axis: LineAxis, at: number, spacing: number): number {
  const reach = Math.max(1, Math.round(axis.resolution / axis.bin / 2));
  let sum = 0;
  for (const place of [at - spacing, at + spacing, 2 * at - spacing, 2 * at + spacing]) {
    const middle = Math.round(place / axis.bin);
    let best = 0;
    for (let k = middle - reach; k <= middle + reach; k++) {
      best = Math.max(best, axis.evidence[k] ?? 0);
    }
    sum += Math.min(best, 12);
  }
  return sum;
}

/** Whether the modulation expected of a fault is there; null when the line itself is not. */
function hasSidebands({ placed, at, p, decoys }: Tested): boolean | null {
  const { line, axis } = placed;
  const clockPlace = line.clock === "motor" ? axis.motorPlace : axis.drumPlace;
  if (line.sidebandMultiple === null || clockPlace === null || p > SIDEBAND_LOOK_P) return null;
  const spacing = line.sidebandMultiple * clockPlace;
  // Closer than this they melt into the line.
  if (spacing < 2 * axis.resolution) return null;
  const values = Float64Array.from(decoys, (place) => sidebandSum(axis, place, spacing));
  return decoyPValue(sidebandSum(axis, at, spacing), values) < 0.05;
}

/** Looks for every expected line whose clock is known. */
export function findLines(lines: readonly ExpectedLine[], views: LineViews): LineFinding[] {
  const groups = groupLines(placeLines(lines, views));
  const tested = new WindowTester(groups)
    .testAll()
    .map((test): Tested => ({ ...test, unit: unitOf(test, groups.indexOf(test.group)) }));
  const adjusted = adjust(tested);
  const belts = tested.filter(
    ({ placed }, i) => placed.line.kind === "belt-pass" && adjusted[i]! < 0.01,
  );
  return tested.map((one, i) => {
    const { placed, at, p } = one;
    const { axis, line } = placed;
    return {
      line,
      heardHz: at * axis.hzPerPlace,
      heardOrder: axis.drumPlace === null ? null : at / axis.drumPlace,
      p,
      pAdjusted: adjusted[i]!,
      confounded: onKnownLine(one) || onBeltHarmonic(one, belts) || onSideband(one, tested),
      sidebands: hasSidebands(one),
    };
  });
}
