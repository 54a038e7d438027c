import { WasherNoiseError } from "../../foundation/errors.js";
import { parseFinite, type ElectricalUnit } from "./quantity.js";
import { limitsAround, type Limits, type Tolerance } from "./tolerance.js";

/** What the sheet or the label prints: one value, or the limits themselves. */
export interface PrintedValue {
  /** In ohm or farad; null when the sheet prints a range. */
  readonly value: number | null;
  readonly accepts: Limits;
  readonly text: string;
}

/** `5700` with a tolerance around it, or a range such as `750-850` that is the tolerance itself. */
export function parsePrinted(
  text: string,
  unit: ElectricalUnit,
  tolerance: Tolerance,
): PrintedValue {
  const ends = text.trim().split(/\s*(?:-|–|\.\.|\bto\b)\s*/);
  if (ends.length === 2) return printedRange(ends[0]!, ends[1]!, unit, text);
  const { value } = parseFinite("--printed", text, unit);
  if (value > 0) return { value, accepts: limitsAround(value, tolerance), text: text.trim() };
  throw new WasherNoiseError(
    "usage",
    `--printed must be more than 0, received "${text}"; for a closed switch use --kind closed.`,
    { name: "--printed", received: text },
  );
}

function printedRange(
  first: string,
  second: string,
  unit: ElectricalUnit,
  text: string,
): PrintedValue {
  // In "4.5-5.5k" the unit behind the second end belongs to both.
  const suffix = /[^\d.,]*$/.exec(second)![0];
  const from = /[\d.,]$/.test(first) ? first + suffix : first;
  const low = parseFinite("--printed", from, unit).value;
  const high = parseFinite("--printed", second, unit).value;
  if (low >= 0 && low < high) return { value: null, accepts: { low, high }, text: text.trim() };
  throw new WasherNoiseError(
    "usage",
    `--printed must give the smaller end first, such as 750-850, received "${text}".`,
    { name: "--printed", received: text },
  );
}
