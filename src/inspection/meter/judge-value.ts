import { WasherNoiseError } from "../../foundation/errors.js";
import { formatQuantity } from "./format-quantity.js";
import { compareToLimits, type Measured } from "./measured.js";
import { METER_FACTS } from "./meter-facts.data.js";
import { METER_NOTES } from "./meter-notes.js";
import type { Judgement, MeterNote, Reading } from "./meter-result.js";
import { parsePrinted, type PrintedValue } from "./printed-value.js";
import { parseTolerance, type Limits, type Tolerance } from "./tolerance.js";

/** ±10 % unless the sheet or marking gives its own. */
export function toleranceOf(reading: Reading): Tolerance {
  const told = reading.request.tolerance;
  if (told !== undefined) return parseTolerance(told, reading.unit);
  const usual =
    reading.kind === "capacitor" ? METER_FACTS.capacitorPercent : METER_FACTS.tolerancePercent;
  return { minusPercent: usual.value, plusPercent: usual.value };
}

/**
 * The printed value and what it accepts.
 *
 * @throws WasherNoiseError `usage` when none was told: no value is ever assumed for a part.
 */
export function printedOf(reading: Reading): PrintedValue {
  const { printed } = reading.request;
  if (printed !== undefined) return parsePrinted(printed, reading.unit, toleranceOf(reading));
  const where =
    reading.kind === "capacitor"
      ? "the marking on the capacitor"
      : "the value on the machine's own data sheet; values differ too much between machines to assume one";
  throw new WasherNoiseError("usage", `--printed is missing: tell ${where}.`, {
    name: "--printed",
  });
}

/** Whether a reading lies in the last tenth of the tolerance, on either side. */
function isAtEdge(measured: Measured, printed: number, accepts: Limits): boolean {
  const side = measured.value >= printed ? accepts.high - printed : printed - accepts.low;
  return Math.abs(measured.value - printed) >= METER_FACTS.edgeShare.value * side;
}

function edgeNote(reading: Reading): MeterNote {
  const age = reading.request.ageYears;
  return METER_NOTES.edge(age === undefined ? null : age >= METER_FACTS.oldFromYears.value);
}

/** A coil just above its limit may only be warm. */
function warmNote(measured: Measured, accepts: Limits): MeterNote[] {
  const kelvin = (measured.value / accepts.high - 1) / METER_FACTS.copperPerKelvin.value;
  return kelvin > 0 && kelvin <= METER_FACTS.warmestCoilKelvin.value
    ? [METER_NOTES.warmCoil(Math.ceil(kelvin))]
    : [];
}

function reasonFor(reading: Reading, measured: Measured, accepts: Limits): string {
  const { unit, kind } = reading;
  if (measured.value === Infinity) return "The circuit is open where it should conduct.";
  const value = formatQuantity(measured.value, unit);
  const verdict = compareToLimits(measured, accepts);
  if (verdict === "pass") return `${value} lies within the limits, the meter's error included.`;
  if (verdict === "too-close") {
    return `${value} lies so near a limit that the meter's error reaches across it.`;
  }
  if (measured.value > accepts.high) return `${value} is too high.`;
  return kind === "capacitor" ? `${value} is too low: worn out.` : `${value} is too low.`;
}

/** One value against the value or range printed for it. */
export function judgeValue(reading: Reading): Judgement {
  const printed = printedOf(reading);
  const { accepts } = printed;
  const measured = reading.measured[0]!;
  const verdict = compareToLimits(measured, accepts);
  const centre = printed.value ?? (accepts.low + accepts.high) / 2;
  const edge = verdict !== "fail" && isAtEdge(measured, centre, accepts);
  return {
    verdict,
    reason: reasonFor(reading, measured, accepts),
    accepts,
    notes: [
      ...(edge ? [edgeNote(reading)] : []),
      ...(verdict === "too-close" && !edge ? [METER_NOTES.coarse] : []),
      ...(reading.kind === "resistance" ? warmNote(measured, accepts) : []),
    ],
  };
}
